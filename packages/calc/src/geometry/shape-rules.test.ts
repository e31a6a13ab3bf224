import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalcError } from '../errors.ts';
import { type Shape, SHAPE_KINDS, shapeArea, type ShapeKind, SHAPES } from './index.ts';

const make = (kind: string, dimensions: Record<string, number>): Shape =>
  ({ kind, ...dimensions }) as unknown as Shape;

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
      'a weave tighter than round wires can lie',
      'meshCrimped',
      { faceMm2: 100, wireDiameterMm: 1, pitchMm: 1.73 },
      'wireDiameterMm',
    ],
    [
      'a spring whose turns lie in one another',
      'spring',
      { wireDiameterMm: 2, meanDiameterMm: 16, pitchMm: 1.9, coils: 8 },
      'pitchMm',
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
    ['spring', { wireDiameterMm: 2, meanDiameterMm: 16, pitchMm: 2, coils: 8 }],
    ['meshCrimped', { faceMm2: 100, wireDiameterMm: 1, pitchMm: 1.7321 }],
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
