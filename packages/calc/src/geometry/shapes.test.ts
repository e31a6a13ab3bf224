import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { type Shape, SHAPE_KINDS, shapeArea, type ShapeKind } from './index.ts';

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
