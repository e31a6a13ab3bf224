import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../../reference/csv.ts';
import { meshFile } from '../../../reference/geometry/mesh-file.ts';
import { meshMeasure, readStl } from '../index.ts';

describe('mesh files', () => {
  it.each(readCsv('geometry/meshes.csv').map((row) => [row['file'] ?? '', row] as const))(
    '%s',
    (file, row) => {
      const mesh = readStl(meshFile(file));
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
    const found = meshMeasure(readStl(meshFile(file))).flags;
    expect(found).toHaveLength(flags.length);
    flags.forEach((flag, i) => expect(found[i]).toMatch(flag));
  });

  it('a surface that is stored twice was counted twice without a word', () => {
    const { coordinates } = readStl(meshFile('box_20x30x5.stl'));
    const once = meshMeasure({ coordinates });
    const turnedOn = coordinates.slice();
    // The second copy begins each facet at another corner.
    for (let facet = 0; facet < turnedOn.length; facet += 9)
      turnedOn.set(
        [...coordinates.slice(facet + 3, facet + 9), ...coordinates.slice(facet, facet + 3)],
        facet,
      );
    const twice = meshMeasure({ coordinates: new Float64Array([...coordinates, ...turnedOn]) });
    expect(twice).toEqual({
      ...once,
      repeated: 12,
      flags: ['12 facets are stored more than once and counted once'],
    });
  });

  it('the two sides of a sheet without thickness are both kept', () => {
    const front = [0, 0, 0, 10, 0, 0, 0, 10, 0];
    const back = [0, 0, 0, 0, 10, 0, 10, 0, 0];
    const sheet = meshMeasure({ coordinates: new Float64Array([...front, ...back]) });
    expect(sheet).toMatchObject({ areaMm2: 100, repeated: 0, closed: true, flags: [] });
  });

  it('an open shell did not say that it is wet on both sides', () => {
    const { flags } = meshMeasure(readStl(meshFile('box_without_lid.stl')));
    expect(flags.join()).toContain('a sheet is wet on both');
  });

  it('the facetted cylinder is lower than the true one by sin(π/n)/(π/n) at its side', () => {
    const { areaMm2 } = meshMeasure(readStl(meshFile('cylinder_d20_l25_n24.stl')));
    const side = Math.PI * 20 * 25 * (Math.sin(Math.PI / 24) / (Math.PI / 24));
    const ends = 24 * 10 ** 2 * Math.sin((2 * Math.PI) / 24);
    expect(areaMm2).toBeCloseTo(side + ends, 3);
    expect(areaMm2).toBeLessThan(2199.1149);
  });

  it('measures in inches when told so', () => {
    const { areaMm2, volumeMm3, bounds } = meshMeasure(readStl(meshFile('box_20x30x5.stl')), {
      millimetresPerUnit: 25.4,
    });
    expect(areaMm2).toBeCloseTo(1700 * 645.16, 3);
    expect(volumeMm3).toBeCloseTo(3000 * 16_387.064, 2);
    expect(bounds).toEqual({ minMm: [0, 0, 0], maxMm: [508, 762, 127], sizeMm: [508, 762, 127] });
  });
});

describe('meshMeasure', () => {
  const box = readStl(meshFile('box_20x30x5.stl')).coordinates;

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
