import { malformed, tooMany } from './stl-faults.ts';
import { Tokens } from './tokens.ts';
import type { StlMesh } from './triangles.ts';

/** `facet normal 0 0 0 outer loop vertex 0 0 0 vertex 0 0 0 vertex 0 0 0 endloop endfacet ` */
const FEWEST_BYTES_A_FACET = 84;

/**
 * Text STL: any number of solids, each a list of facets. Keywords in any case, any white space, coordinates in any
 * decimal notation. Names of solids and stored normals are passed over.
 */
export function readAsciiStl(bytes: Uint8Array, maxFacets: number): StlMesh {
  const tokens = new Tokens(bytes);
  const room = Math.min(Math.ceil(bytes.length / FEWEST_BYTES_A_FACET), maxFacets);
  const coordinates = new Float64Array(9 * room);
  let facets = 0;
  while (tokens.more()) {
    expect(tokens, 'solid', facets);
    skipName(tokens);
    facets = readSolid(tokens, { coordinates, facets, maxFacets });
  }
  if (facets === 0) throw malformed('a file without facets', 'at least one facet');
  return { coordinates: coordinates.slice(0, 9 * facets), facets, format: 'ascii' };
}

interface Filling {
  coordinates: Float64Array;
  facets: number;
  maxFacets: number;
}

function readSolid(tokens: Tokens, { coordinates, facets, maxFacets }: Filling): number {
  while (tokens.take('facet')) {
    if (9 * facets >= coordinates.length) {
      if (facets >= maxFacets) throw tooMany(`more than ${maxFacets}`, maxFacets);
      throw broken(tokens, facets);
    }
    expect(tokens, 'normal', facets);
    for (let i = 0; i < 3; i++) tokens.skip();
    expect(tokens, 'outer', facets);
    expect(tokens, 'loop', facets);
    for (let corner = 0; corner < 3; corner++) {
      expect(tokens, 'vertex', facets);
      for (let axis = 0; axis < 3; axis++) {
        const value = tokens.number();
        if (!Number.isFinite(value))
          throw malformed(`${tokens.last()} in facet ${facets + 1}`, 'finite coordinates');
        coordinates[9 * facets + 3 * corner + axis] = value;
      }
    }
    expect(tokens, 'endloop', facets);
    expect(tokens, 'endfacet', facets);
    facets++;
  }
  expect(tokens, 'endsolid', facets);
  tokens.skipLine();
  return facets;
}

/** A name may be anything, the word "facet" included; it ends with the line or where a facet begins. */
function skipName(tokens: Tokens): void {
  while (tokens.moreOnLine() && !tokens.next('facet', 'normal') && !tokens.next('endsolid')) tokens.skip();
}

function expect(tokens: Tokens, word: string, facets: number): void {
  if (!tokens.take(word)) throw broken(tokens, facets, word);
}

function broken(tokens: Tokens, facets: number, word = 'a facet of at least 84 letters') {
  const given = tokens.more()
    ? `"${tokens.peek()}" after ${facets} whole facets`
    : `the end after ${facets} whole facets`;
  return malformed(given, word);
}
