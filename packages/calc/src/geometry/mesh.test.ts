import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { meshMeasure, readStl } from './index.ts';

const load = (file: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../../reference/geometry/${file}`, import.meta.url)));

const text = (content: string): Uint8Array => new TextEncoder().encode(content);

describe('mesh files', () => {
  it.each(readCsv('geometry/meshes.csv').map((row) => [row['file'] ?? '', row] as const))(
    '%s',
    (file, row) => {
      const mesh = readStl(load(file));
      expect(mesh).toMatchObject({ format: row['format'], facets: Number(row['facets']) });
      const measured = meshMeasure(mesh);
      // 32-bit coordinates, and in one file corners moved by up to 1e-5 mm.
      expect(measured.areaMm2 / Number(row['area_mm2'])).toBeCloseTo(1, 5);
      if (row['volume_mm3'])
        expect((measured.volumeMm3 ?? NaN) / Number(row['volume_mm3'])).toBeCloseTo(1, 5);
      else expect(measured.volumeMm3).toBeNull();
      expect(measured).toMatchObject({
        closed: row['closed'] === 'true',
        insideOut: row['inside_out'] === 'true',
        openEdges: Number(row['open_edges']),
        flippedEdges: Number(row['flipped_edges']),
        skipped: Number(row['skipped']),
        bodies: Number(row['bodies']),
      });
    },
  );

  it.each([
    ['box_20x30x5.stl', []],
    ['box_without_lid.stl', [/open: 4 edges/]],
    ['box_inside_out.stl', [/inwards/]],
    ['box_one_facet_turned.stl', [/both ways along 3 edges/]],
    ['box_hollow.stl', [/2 separate bodies/]],
    ['box_with_slivers.stl', [/3 facets with two corners on one point/]],
  ])('%s says what is wrong', (file, flags) => {
    const found = meshMeasure(readStl(load(file))).flags;
    expect(found).toHaveLength(flags.length);
    flags.forEach((flag, i) => expect(found[i]).toMatch(flag));
  });

  it('the facetted cylinder is lower than the true one by sin(π/n)/(π/n) at its side', () => {
    const { areaMm2 } = meshMeasure(readStl(load('cylinder_d20_l25_n24.stl')));
    const side = Math.PI * 20 * 25 * (Math.sin(Math.PI / 24) / (Math.PI / 24));
    const ends = 24 * 10 ** 2 * Math.sin((2 * Math.PI) / 24);
    expect(areaMm2).toBeCloseTo(side + ends, 3);
    expect(areaMm2).toBeLessThan(2199.1149);
  });

  it('measures in inches when told so', () => {
    const { areaMm2, volumeMm3, bounds } = meshMeasure(readStl(load('box_20x30x5.stl')), {
      millimetresPerUnit: 25.4,
    });
    expect(areaMm2).toBeCloseTo(1700 * 645.16, 3);
    expect(volumeMm3).toBeCloseTo(3000 * 16_387.064, 2);
    expect(bounds).toEqual({ minMm: [0, 0, 0], maxMm: [508, 762, 127], sizeMm: [508, 762, 127] });
  });
});

describe('which of the two formats', () => {
  it('a binary file may begin with the word solid: its size decides', () => {
    const bytes = load('box_20x30x5.stl');
    expect(String.fromCharCode(...bytes.subarray(0, 5))).toBe('solid');
    expect(readStl(bytes).format).toBe('binary');
  });

  it('a view into a larger buffer is read from its own beginning', () => {
    const file = load('box_20x30x5.stl');
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
  const box = load('box_20x30x5.stl');
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

describe('meshMeasure', () => {
  const box = readStl(load('box_20x30x5.stl')).coordinates;

  it('does not depend on where the origin lies, nor on the order of facets', () => {
    const shift = fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -1_000_000, max: 1_000_000 })));
    fc.assert(
      fc.property(shift, fc.shuffledSubarray([...Array(12).keys()], { minLength: 12 }), (by, order) => {
        const moved = order.flatMap((facet) =>
          [...box.subarray(9 * facet, 9 * facet + 9)].map((value, i) => value + (by[i % 3] ?? 0)),
        );
        expect(meshMeasure({ coordinates: new Float64Array(moved) })).toMatchObject({
          areaMm2: 1700,
          volumeMm3: 3000,
          closed: true,
          bodies: 1,
        });
      }),
    );
  });

  it('closes corners that differ by less than a millionth of the diagonal, and no others', () => {
    const apart = (by: number) => {
      const coordinates = Float64Array.from(box);
      coordinates[1] = (coordinates[1] ?? 0) + by;
      return meshMeasure({ coordinates });
    };
    const diagonal = Math.hypot(20, 30, 5);
    expect(apart(0.9e-6 * diagonal)).toMatchObject({ closed: true, openEdges: 0 });
    expect(apart(1.1e-6 * diagonal)).toMatchObject({ closed: false, volumeMm3: null });
    // Welding decides only whether the surface is closed: the area is that of the corner as given.
    expect(apart(0.9e-6 * diagonal).areaMm2).not.toBe(1700);
  });

  it('minus zero is zero', () => {
    const coordinates = Float64Array.from(box, (value, i) => (value === 0 && i % 2 === 0 ? -0 : value));
    expect(meshMeasure({ coordinates })).toMatchObject({ closed: true, volumeMm3: 3000 });
  });

  it('a fan of a thousand facets about one point is paired', () => {
    const n = 1000;
    const rim = (i: number) => [
      Math.cos((2 * Math.PI * (i % n)) / n),
      Math.sin((2 * Math.PI * (i % n)) / n),
      0,
    ];
    const cone = Array.from({ length: n }, (_, i) => [
      ...[0, 0, 1, ...rim(i), ...rim(i + 1)],
      ...[0, 0, 0, ...rim(i + 1), ...rim(i)],
    ]);
    const { closed, volumeMm3 } = meshMeasure({ coordinates: Float64Array.from(cone.flat()) });
    expect(closed).toBe(true);
    expect(volumeMm3).toBeCloseTo(((n / 2) * Math.sin((2 * Math.PI) / n)) / 3, 12);
  });

  it('edges that four facets share are in order when they pair', () => {
    const stacked = [...box, ...[...box].map((value, i) => value + (i % 3 === 0 ? 20 : 0))];
    expect(meshMeasure({ coordinates: Float64Array.from(stacked) })).toMatchObject({
      closed: true,
      volumeMm3: 6000,
      bodies: 1,
    });
  });

  it.each<[string, number[], { millimetresPerUnit?: number }, string]>([
    ['nothing', [], {}, 'coordinates'],
    ['half a facet', [0, 0, 0, 1, 0, 0], {}, 'coordinates'],
    ['NaN', [0, 0, 0, 1, 0, NaN, 0, 1, 0], {}, 'coordinates[5]'],
    ['points only', [1, 1, 1, 1, 1, 1, 1, 1, 1], {}, 'coordinates'],
    ['a line only', [0, 0, 0, 1, 0, 0, 2, 0, 0], {}, 'coordinates'],
    ['a unit of nothing', [0, 0, 0, 1, 0, 0, 0, 1, 0], { millimetresPerUnit: 0 }, 'millimetresPerUnit'],
  ])('refuses %s', (...[, coordinates, options, argument]) => {
    expect(() => meshMeasure({ coordinates: Float64Array.from(coordinates) }, options)).toThrowError(
      expect.objectContaining({ argument }),
    );
  });
});
