import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshFile } from '../../../reference/geometry/mesh-file.ts';
import { meshMeasure, readStl } from '../index.ts';

const text = (content: string): Uint8Array => new TextEncoder().encode(content);

describe('which of the two formats', () => {
  it('a binary file may begin with the word solid: its size decides', () => {
    const bytes = meshFile('box_20x30x5.stl');
    expect(String.fromCharCode(...bytes.subarray(0, 5))).toBe('solid');
    expect(readStl(bytes).format).toBe('binary');
  });

  it('a view into a larger buffer is read from its own beginning', () => {
    const file = meshFile('box_20x30x5.stl');
    const larger = new Uint8Array(file.length + 7);
    larger.set(file, 7);
    expect(readStl(larger.subarray(7)).coordinates).toEqual(readStl(file).coordinates);
  });

  it.each([
    [
      'one line',
      'solid t facet normal 0 0 1 outer loop vertex 0 0 0 vertex 2 0 0 vertex 0 2 0 endloop endfacet endsolid',
    ],
    [
      'capitals and Windows lines',
      'SOLID Part 1\r\nFACET NORMAL 0 0 1\r\nOUTER LOOP\r\nVERTEX 0 0 0\r\nVERTEX 2 0 0\r\nVERTEX 0 2 0\r\nENDLOOP\r\nENDFACET\r\nENDSOLID Part 1\r\n',
    ],
    [
      'a name with the word facet, and a normal that is no number',
      'solid my facet\nfacet normal nan nan nan outer loop vertex +0 -0 0. vertex 2.0e0 .0 0e5 vertex 0 20E-1 0\nendloop endfacet\nendsolid my facet\n',
    ],
    [
      'no name',
      '  solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 2 0 0\nvertex 0 2 0\nendloop\nendfacet\nendsolid',
    ],
    [
      'more digits than a double holds',
      'solid\nfacet normal 0 0 1 outer loop vertex 0 0 0 vertex 2.00000000000000000000000 0 0 vertex 0 2e0000 0 endloop endfacet endsolid',
    ],
  ])('text in %s', (_, content) => {
    const mesh = readStl(text(content));
    expect(mesh).toMatchObject({ format: 'ascii', facets: 1 });
    expect([...mesh.coordinates].map((value) => value + 0)).toEqual([0, 0, 0, 2, 0, 0, 0, 2, 0]);
  });

  it('several solids in one text are read together', () => {
    const one = (x: number) =>
      `solid s${x}\nfacet normal 0 0 1\nouter loop\nvertex ${x} 0 0\nvertex ${x + 1} 0 0\nvertex ${x} 1 0\nendloop\nendfacet\nendsolid s${x}\n`;
    expect(meshMeasure(readStl(text(one(0) + one(5))))).toMatchObject({
      areaMm2: 1,
      bodies: 2,
      openEdges: 6,
    });
  });

  it('reads numbers as the language does', () => {
    const decimal = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
      fc.float({ noNaN: true, noDefaultInfinity: true }).map((value) => value.toExponential(6)),
      fc.integer({ min: -1_000_000, max: 1_000_000 }).map((value) => (value / 1000).toFixed(3)),
    );
    fc.assert(
      fc.property(fc.array(decimal, { minLength: 9, maxLength: 9 }), (words) => {
        const corners = [0, 3, 6].map((i) => `vertex ${words.slice(i, i + 3).join(' ')}`).join('\n');
        const content = `solid\nfacet normal 0 0 0\nouter loop\n${corners}\nendloop\nendfacet\nendsolid\n`;
        expect([...readStl(text(content)).coordinates]).toEqual(words.map(Number));
      }),
    );
  });
});

describe('broken files are refused in words', () => {
  const box = meshFile('box_20x30x5.stl');
  const patched = (offset: number, bytes: number[]): Uint8Array => {
    const copy = box.slice();
    copy.set(bytes, offset);
    return copy;
  };
  const facet =
    'facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 2 0 0\nvertex 0 2 0\nendloop\nendfacet\n';
  const longer = new Uint8Array([...box, 0]);

  it.each<[string, Uint8Array, RegExp]>([
    ['an empty file', new Uint8Array(), /bytes is an empty file/],
    ['a few bytes', new Uint8Array(40), /40 bytes; allowed: at least the 84 bytes/],
    [
      'a truncated binary',
      box.subarray(0, 600),
      /600 bytes, cut short; allowed: 684 bytes for the 12 facets/,
    ],
    ['bytes after the last facet', longer, /685 bytes, with more after the last facet; allowed: 684/],
    ['a header alone', new Uint8Array(84), /a file without facets/],
    ['a huge count in a small file', patched(80, [255, 255, 255, 255]), /allowed: 214748364834 bytes/],
    ['NaN', patched(96 + 50, [0, 0, 0xc0, 0x7f]), /NaN in facet 2; allowed: finite/],
    ['infinity', patched(100, [0, 0, 0x80, 0x7f]), /Infinity in facet 1/],
    [
      'a truncated text',
      text(`solid t\n${facet}facet normal 0 0 1\nouter`),
      /the end after 1 whole facets; allowed: loop/,
    ],
    ['a text without its end', text(`solid t\n${facet}`), /the end after 1 whole facets; allowed: endsolid/],
    [
      'something after the end',
      text(`solid t\n${facet}endsolid t\nhello`),
      /"hello" after 1 whole facets; allowed: solid/,
    ],
    [
      'a quadrilateral',
      text(`solid t\n${facet.replace('endloop', 'vertex 1 1 0\nendloop')}endsolid`),
      /"vertex" after 0 whole facets; allowed: endloop/,
    ],
    [
      'a word for a number',
      text(`solid t\n${facet.replace('2 0 0', '2 zero 0')}endsolid`),
      /zero in facet 1/,
    ],
    ['NaN in a text', text(`solid t\n${facet.replace('2 0 0', '2 nan 0')}endsolid`), /nan in facet 1/],
    ['two numbers in one', text(`solid t\n${facet.replace('2 0 0', '2-1 0 0')}endsolid`), /2-1 in facet 1/],
    ['an empty solid', text('solid t\nendsolid t\n'), /without facets/],
    ['another kind of file', text(`%PDF-1.7 ${'x'.repeat(100)}`), /cut short/],
  ])('%s', (...[, bytes, message]) => {
    expect(() => readStl(bytes)).toThrowError(message);
    expect(() => readStl(bytes)).toThrowError(
      expect.objectContaining({ argument: 'bytes', code: 'malformed' }),
    );
  });

  it.each([
    ['binary', box],
    ['text', text(`solid t\n${facet.repeat(3)}endsolid`)],
  ])('too many facets in a %s', (_, bytes) => {
    expect(() => readStl(bytes, { maxFacets: 2 })).toThrowError(/facets; allowed: at most 2 facets/);
  });

  it('never fails otherwise than in words, whatever the bytes', () => {
    fc.assert(
      fc.property(fc.nat(683), fc.uint8Array({ minLength: 1, maxLength: 20 }), (offset, noise) => {
        const bytes = patched(Math.min(offset, 684 - noise.length), [...noise]);
        try {
          expect(readStl(bytes).facets).toBe(12);
        } catch (error) {
          expect(error).toMatchObject({ name: 'CalcError', argument: 'bytes' });
        }
      }),
    );
  });
});
