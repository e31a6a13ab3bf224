import { checkWhole } from '../../check.ts';
import { readAsciiStl } from './ascii-stl.ts';
import { malformed, tooMany } from './stl-faults.ts';
import { MOST_FACETS, type StlMesh } from './triangles.ts';

/** Eighty bytes of header and the facet count. */
const HEADER_BYTES = 84;
/** Normal and three corners in twelve 32-bit floats, and sixteen bits nobody uses. */
const FACET_BYTES = 50;
const NORMAL_BYTES = 12;

/**
 * The facets of an STL file, binary or text, in the file's own unit: STL stores none, so ask, and show the bounding box.
 *
 * Which of the two it is, is decided by size, because many binary files begin with the word that marks a text file: a
 * file of 84 + 50 n bytes, n being the count it states, is binary. Stored normals are not read; they are often wrong.
 *
 * At most `maxFacets` (10 million unless given) are read; the count is checked before anything is allocated.
 * Source: the format as commonly described, little-endian.
 * Errors: `malformed` when the file is empty, truncated, goes on after its last facet, or has a coordinate that is not a
 * finite number; `out-of-range` for too many facets.
 *
 * @example
 * const text = 'solid t facet normal 0 0 1 outer loop vertex 0 0 0 vertex 2 0 0 vertex 0 2 0 endloop endfacet endsolid t';
 * readStl(Uint8Array.from(text, (letter) => letter.charCodeAt(0))) // { format: 'ascii', facets: 1 }
 */
export function readStl(bytes: Uint8Array, options: { maxFacets?: number } = {}): StlMesh {
  const maxFacets = checkWhole('maxFacets', options.maxFacets ?? MOST_FACETS, { min: 1, max: MOST_FACETS });
  if (!(bytes instanceof Uint8Array) || bytes.length === 0) throw malformed('an empty file', 'an STL file');
  const stated = statedFacets(bytes);
  const isBinary = bytes.length === HEADER_BYTES + FACET_BYTES * stated;
  if (!isBinary && looksLikeText(bytes)) return readAsciiStl(bytes, maxFacets);
  if (bytes.length < HEADER_BYTES)
    throw malformed(`${bytes.length} bytes`, 'at least the 84 bytes of an STL header');
  if (!isBinary) {
    const expected = HEADER_BYTES + FACET_BYTES * stated;
    const given = `${bytes.length} bytes, ${bytes.length < expected ? 'cut short' : 'with more after the last facet'}`;
    throw malformed(given, `${expected} bytes for the ${stated} facets it states`);
  }
  if (stated === 0) throw malformed('a file without facets', 'at least one facet');
  if (stated > maxFacets) throw tooMany(stated, maxFacets);
  return { coordinates: readBinary(bytes, stated), facets: stated, format: 'binary' };
}

function readBinary(bytes: Uint8Array, facets: number): Float32Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const coordinates = new Float32Array(9 * facets);
  let next = 0;
  for (let facet = 0; facet < facets; facet++) {
    const start = HEADER_BYTES + FACET_BYTES * facet + NORMAL_BYTES;
    for (let offset = start; offset < start + 36; offset += 4) {
      const value = view.getFloat32(offset, true);
      // NaN and the infinities are the values that do not cancel themselves.
      if (value - value !== 0) throw malformed(`${value} in facet ${facet + 1}`, 'finite coordinates');
      coordinates[next++] = value;
    }
  }
  return coordinates;
}

const statedFacets = (bytes: Uint8Array): number =>
  bytes.length < HEADER_BYTES
    ? NaN
    : new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(HEADER_BYTES - 4, true);

/** Begins with "solid" and holds no byte that text would not, as far as a binary header goes. */
function looksLikeText(bytes: Uint8Array): boolean {
  const beginning = String.fromCharCode(...bytes.subarray(0, 512));
  return /^\s*solid\b/i.test(beginning) && !beginning.includes('\0');
}
