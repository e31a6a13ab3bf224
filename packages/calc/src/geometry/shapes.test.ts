import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { CalcError } from '../errors.ts';
import { type Shape, SHAPE_KINDS, shapeArea, type ShapeKind, SHAPES } from './index.ts';

const make = (kind: string, dimensions: Record<string, number>): Shape =>
  ({ kind, ...dimensions }) as unknown as Shape;

describe('published rows', () => {
  const rows = readCsv('geometry/shapes.csv');

  it.each(rows.map((row) => [row['case'], row] as const))('%s', (_, row) => {
    const dimensions = JSON.parse(row['dimensions'] ?? '') as Record<string, number>;
    // Four decimals are printed.
    expect(shapeArea(make(row['kind'] ?? '', dimensions)).areaMm2).toBeCloseTo(Number(row['area_mm2']), 4);
  });

  it('has a row for every kind but the tapped hole, which the thread table holds', () => {
    expect(new Set(rows.map((row) => row['kind']))).toEqual(
      new Set(SHAPE_KINDS.filter((kind) => kind !== 'tappedHole')),
    );
  });
});

describe('threads, ISO 68-1 basic profile', () => {
  it.each(readCsv('geometry/threads.csv').map((row) => [row['thread'], row] as const))('%s', (_, row) => {
    const [d, pitchMm] = [Number(row['d_mm']), Number(row['pitch_mm'])];
    const length = 10;
    const { areaMm2 } = shapeArea({ kind: 'thread', diameterMm: d, pitchMm, lengthMm: length });
    const hole = shapeArea({ kind: 'tappedHole', diameterMm: d, pitchMm, lengthMm: length });
    const minor = Number(row['d1_mm']);
    expect(areaMm2 / (Math.PI * d * length)).toBeCloseTo(Number(row['ratio_to_major_cylinder']), 5);
    // The minor diameter is printed with four decimals, so its quotient is good to four.
    expect(hole.areaMm2 / (Math.PI * minor * length)).toBeCloseTo(Number(row['ratio_to_minor_bore']), 4);
    const helicoid = Number(row['ratio_helicoid']) / Number(row['ratio_to_major_cylinder']) - 1;
    expect(helicoid).toBeGreaterThan(0.0003);
    expect(helicoid).toBeLessThan(0.00112);
  });

  it('holds between the cylinders of its two diameters', () => {
    const { volumeMm3 } = shapeArea({ kind: 'thread', diameterMm: 10, pitchMm: 1.5, lengthMm: 30 });
    expect(volumeMm3).toBeLessThan((Math.PI / 4) * 100 * 30);
    expect(volumeMm3).toBeGreaterThan((Math.PI / 4) * 8.3762 ** 2 * 30);
  });
});

describe('volumes, by hand', () => {
  it.each<[ShapeKind, Record<string, number>, number]>([
    ['plate', { lengthMm: 120, widthMm: 80, thicknessMm: 3 }, 28_800],
    [
      'plateWithHoles',
      { lengthMm: 10, widthMm: 10, thicknessMm: 2, holeCount: 1, holeDiameterMm: 4 },
      200 - 8 * Math.PI,
    ],
    ['bar', { diameterMm: 8, lengthMm: 60 }, 960 * Math.PI],
    ['tube', { outerDiameterMm: 25, innerDiameterMm: 21, lengthMm: 90 }, 46 * 90 * Math.PI],
    ['tubeOuter', { outerDiameterMm: 25, innerDiameterMm: 21, lengthMm: 90 }, 46 * 90 * Math.PI],
    ['washer', { outerDiameterMm: 20, innerDiameterMm: 10, thicknessMm: 2 }, 150 * Math.PI],
    ['hexBar', { acrossFlatsMm: 10, lengthMm: 25 }, 1250 * Math.sqrt(3)],
    ['cone', { diameterMm: 20, heightMm: 24 }, 800 * Math.PI],
    ['frustum', { largeDiameterMm: 40, smallDiameterMm: 24, heightMm: 30 }, 10 * (400 + 240 + 144) * Math.PI],
    ['sphere', { diameterMm: 12 }, 288 * Math.PI],
    ['cap', { sphereRadiusMm: 25, heightMm: 25 }, (2 / 3) * 25 ** 3 * Math.PI],
    ['capClosed', { sphereRadiusMm: 25, heightMm: 50 }, (4 / 3) * 25 ** 3 * Math.PI],
    ['torus', { meanDiameterMm: 36, sectionDiameterMm: 6 }, 2 * Math.PI ** 2 * 18 * 9],
    ['capsule', { diameterMm: 6, lengthMm: 14 }, (126 + 36) * Math.PI],
    ['blade', { lengthMm: 90, heightMm: 22, spineMm: 3, edgeMm: 0.4 }, 90 * 22 * 1.7],
    ['wedge', { lengthMm: 90, heightMm: 20, spineMm: 3 }, 2700],
    ['extrusion', { perimeterMm: 86, sectionMm2: 124, lengthMm: 500 }, 62_000],
    [
      'cup',
      { outerDiameterMm: 30, innerDiameterMm: 26, heightMm: 40, floorMm: 2 },
      (225 * 40 - 169 * 38) * Math.PI,
    ],
    [
      'spring',
      { wireDiameterMm: 2, meanDiameterMm: 16, pitchMm: 5, coils: 8 },
      Math.PI * 8 * Math.hypot(16 * Math.PI, 5),
    ],
    ['stud', { diameterMm: 6, pitchMm: 1, threadLengthMm: 1e-9, shankLengthMm: 15 }, 135 * Math.PI],
    [
      'perforatedSquare',
      { faceMm2: 3600, thicknessMm: 1.5, holeDiameterMm: 4, pitchMm: 6 },
      1.5 * (3600 - 400 * Math.PI),
    ],
    [
      'perforatedStaggered',
      { faceMm2: 3600, thicknessMm: 1.5, holeDiameterMm: 4, pitchMm: 6 },
      1.5 * 3600 * (1 - (4 * Math.PI) / (18 * Math.sqrt(3))),
    ],
    ['meshStraight', { faceMm2: 10_000, wireDiameterMm: 0.5, pitchMm: 2 }, 625 * Math.PI],
  ])('%s', (...[kind, dimensions, volumeMm3]) => {
    expect(shapeArea(make(kind, dimensions)).volumeMm3).toBeCloseTo(volumeMm3, 6);
  });

  it('a crimped mesh holds as much more wire as it has area', () => {
    const mesh = { faceMm2: 10_000, wireDiameterMm: 0.5, pitchMm: 2 };
    const [straight, crimped] = [
      shapeArea({ kind: 'meshStraight', ...mesh }),
      shapeArea({ kind: 'meshCrimped', ...mesh }),
    ];
    expect(crimped.volumeMm3 / straight.volumeMm3).toBeCloseTo(16_297.0826 / 15_707.9633, 8);
  });
});

describe('electrical area: a bore counts to one diameter from each opening', () => {
  it.each<[string, ShapeKind, Record<string, number>, number]>([
    ['short tube, all of it', 'tube', { outerDiameterMm: 25, innerDiameterMm: 21, lengthMm: 42 }, 0],
    [
      'tube of 90, 48 unreached',
      'tube',
      { outerDiameterMm: 25, innerDiameterMm: 21, lengthMm: 90 },
      21 * 48 * Math.PI,
    ],
    ['washer', 'washer', { outerDiameterMm: 20, innerDiameterMm: 10, thicknessMm: 2 }, 0],
    ['bush', 'washer', { outerDiameterMm: 20, innerDiameterMm: 10, thicknessMm: 30 }, 100 * Math.PI],
    [
      'cup of depth 38 and bore 26: 12 of wall and the floor',
      'cup',
      { outerDiameterMm: 30, innerDiameterMm: 26, heightMm: 40, floorMm: 2 },
      (26 * 12 + 169) * Math.PI,
    ],
    ['shallow cup', 'cup', { outerDiameterMm: 30, innerDiameterMm: 26, heightMm: 28, floorMm: 2 }, 0],
    [
      'three deep holes of 2',
      'plateWithHoles',
      { lengthMm: 40, widthMm: 20, thicknessMm: 10, holeCount: 3, holeDiameterMm: 2 },
      36 * Math.PI,
    ],
    [
      'thick sheet of fine holes',
      'perforatedSquare',
      { faceMm2: 400, thicknessMm: 5, holeDiameterMm: 1, pitchMm: 2 },
      300 * Math.PI,
    ],
    ['plugged tube', 'tubeOuter', { outerDiameterMm: 25, innerDiameterMm: 21, lengthMm: 90 }, 0],
  ])('%s', (...[, kind, dimensions, unreached]) => {
    const { areaMm2, electricalAreaMm2 } = shapeArea(make(kind, dimensions));
    expect(areaMm2 - electricalAreaMm2).toBeCloseTo(unreached, 9);
  });
});

/** Dimensions that fit each kind, as multiples of one length. */
const FITTING: Record<string, number> = {
  outerDiameterMm: 3,
  innerDiameterMm: 2,
  diameterMm: 2,
  largeDiameterMm: 3,
  smallDiameterMm: 2,
  meanDiameterMm: 3,
  sectionDiameterMm: 1,
  wireDiameterMm: 0.5,
  holeDiameterMm: 0.5,
  pitchMm: 1,
  perimeterMm: 10,
  sectionMm2: 6,
  faceMm2: 50,
  sphereRadiusMm: 2,
  floorMm: 0.5,
  holeCount: 2,
  coils: 5,
};

const fitted = (kind: ShapeKind, length: number): Shape => {
  const dimensions = Object.entries(SHAPES[kind].parameters).map(([key, { unit }]) => {
    const power = unit === 'mm' ? 1 : unit === 'mm²' ? 2 : 0;
    return [key, (FITTING[key] ?? 3) * length ** power];
  });
  return make(kind, Object.fromEntries(dimensions) as Record<string, number>);
};

describe('every shape', () => {
  const kind = fc.constantFrom(...SHAPE_KINDS);
  const length = fc.double({ min: 0.01, max: 1000, noNaN: true });

  it('has area that scales with the square and volume with the cube of its size', () => {
    fc.assert(
      fc.property(kind, length, fc.double({ min: 0.1, max: 10, noNaN: true }), (name, size, factor) => {
        const [small, large] = [shapeArea(fitted(name, size)), shapeArea(fitted(name, size * factor))];
        expect(large.areaMm2 / (small.areaMm2 * factor ** 2)).toBeCloseTo(1, 10);
        expect(large.electricalAreaMm2 / (small.electricalAreaMm2 * factor ** 2)).toBeCloseTo(1, 10);
        expect(large.volumeMm3 / (small.volumeMm3 * factor ** 3)).toBeCloseTo(1, 10);
      }),
    );
  });

  it('has no less area than a sphere of its volume, and no more electrical than wetted area', () => {
    fc.assert(
      fc.property(kind, length, (name, size) => {
        const { areaMm2, electricalAreaMm2, volumeMm3 } = shapeArea(fitted(name, size));
        expect(electricalAreaMm2).toBeLessThanOrEqual(areaMm2);
        expect(electricalAreaMm2).toBeGreaterThan(0);
        // Open surfaces (caps, threads, meshes) lack an end or more.
        if (!['cap', 'thread', 'tappedHole', 'meshStraight', 'meshCrimped'].includes(name)) {
          expect(areaMm2 ** 3).toBeGreaterThanOrEqual(36 * Math.PI * volumeMm3 ** 2 * (1 - 1e-12));
        }
      }),
    );
  });

  it.each(SHAPE_KINDS)('%s refuses a missing, zero, negative or infinite dimension by name', (name) => {
    for (const [key, { orZero }] of Object.entries(SHAPES[name].parameters)) {
      for (const wrong of [undefined, NaN, Infinity, -1, ...(orZero ? [] : [0])]) {
        const shape = { ...fitted(name, 1), [key]: wrong };
        expect(() => shapeArea(shape)).toThrowError(expect.objectContaining({ argument: key }));
      }
    }
  });
});

describe('contradictions', () => {
  it.each<[string, ShapeKind, Record<string, number>, string]>([
    [
      'bore wider than the tube',
      'tube',
      { outerDiameterMm: 20, innerDiameterMm: 20, lengthMm: 5 },
      'innerDiameterMm',
    ],
    ['cap higher than its sphere', 'capClosed', { sphereRadiusMm: 5, heightMm: 10.1 }, 'heightMm'],
    [
      'floor thicker than the cup',
      'cup',
      { outerDiameterMm: 30, innerDiameterMm: 26, heightMm: 4, floorMm: 4 },
      'floorMm',
    ],
    ['thread without a core', 'thread', { diameterMm: 3, pitchMm: 2.8, lengthMm: 5 }, 'pitchMm'],
    [
      'wires closer than they are thick',
      'meshStraight',
      { faceMm2: 100, wireDiameterMm: 1, pitchMm: 1 },
      'wireDiameterMm',
    ],
    [
      'perimeter shorter than a circle',
      'extrusion',
      { perimeterMm: 10, sectionMm2: 8, lengthMm: 5 },
      'perimeterMm',
    ],
    [
      'more hole than plate',
      'plateWithHoles',
      { lengthMm: 10, widthMm: 10, thicknessMm: 1, holeCount: 8, holeDiameterMm: 4 },
      'holeCount',
    ],
    [
      'frustum upside down',
      'frustum',
      { largeDiameterMm: 10, smallDiameterMm: 12, heightMm: 5 },
      'smallDiameterMm',
    ],
    [
      'half a hole',
      'plateWithHoles',
      { lengthMm: 10, widthMm: 10, thicknessMm: 1, holeCount: 1.5, holeDiameterMm: 4 },
      'holeCount',
    ],
  ])('%s', (...[, kind, dimensions, argument]) => {
    expect(() => shapeArea(make(kind, dimensions))).toThrowError(expect.objectContaining({ argument }));
  });

  it.each<[ShapeKind, Record<string, number>]>([
    ['capClosed', { sphereRadiusMm: 5, heightMm: 10 }],
    ['frustum', { largeDiameterMm: 10, smallDiameterMm: 10, heightMm: 5 }],
    ['blade', { lengthMm: 9, heightMm: 2, spineMm: 3, edgeMm: 0 }],
  ])('%s may just touch its bound', (kind, dimensions) => {
    expect(shapeArea(make(kind, dimensions)).areaMm2).toBeGreaterThan(0);
  });

  it('an unknown kind is named with those there are', () => {
    expect(() => shapeArea({ kind: 'teapot' } as unknown as Shape)).toThrowError(
      /kind is teapot; allowed: plate, blade/,
    );
    expect(() => shapeArea(null as unknown as Shape)).toThrowError(CalcError);
  });
});
