import { describe, expect, it } from 'vitest';
import { type Shape, SHAPE_KINDS, type ShapeKind, SHAPES, partBox, shapeArea, shapeBox } from './index.ts';

/** A shape of every kind with dimensions that agree with each other. */
const sizes: Record<string, number> = {
  ...{ lengthMm: 80, widthMm: 40, thicknessMm: 4, heightMm: 12, spineMm: 5, edgeMm: 1, holeCount: 2 },
  ...{ holeDiameterMm: 6, perimeterMm: 100, sectionMm2: 300, acrossFlatsMm: 17, diameterMm: 10 },
  ...{ largeDiameterMm: 20, smallDiameterMm: 12, sphereRadiusMm: 15, meanDiameterMm: 30 },
  ...{ sectionDiameterMm: 6, outerDiameterMm: 25, innerDiameterMm: 20, floorMm: 3, faceMm2: 5000 },
  ...{ pitchMm: 8, wireDiameterMm: 2, coils: 6.5, threadLengthMm: 20, shankLengthMm: 30 },
};
const shapeOf = (kind: ShapeKind): Shape => {
  const named = Object.keys(SHAPES[kind].parameters).map((name) => [name, sizes[name] ?? NaN]);
  return { kind, ...Object.fromEntries(named) } as Shape;
};

describe('shapeBox', () => {
  const unknown = [
    ...['extrusion', 'perforatedSquare', 'perforatedStaggered', 'meshStraight', 'meshCrimped'],
    'tappedHole',
  ];

  it.each(SHAPE_KINDS)('%s does not reach out of its box', (kind) => {
    const box = shapeBox(shapeOf(kind));
    expect(box === null).toBe(unknown.includes(kind));
    if (box === null) return;
    const { volumeMm3, areaMm2 } = shapeArea(shapeOf(kind));
    expect(volumeMm3).toBeLessThanOrEqual(box.x * box.y * box.z * (1 + 1e-12));
    // Every face of the box is at least as large as the shadow of the shape on it; half the surface covers one shadow.
    const largestFace = Math.max(box.x * box.y, box.y * box.z, box.x * box.z);
    expect(areaMm2).toBeGreaterThan(largestFace / 2);
  });

  it.each([
    [
      { kind: 'hexBar', acrossFlatsMm: 17, lengthMm: 50 },
      { x: 19.63, y: 17, z: 50 },
    ],
    [
      { kind: 'cap', sphereRadiusMm: 15, heightMm: 3 },
      { x: 18, y: 18, z: 3 },
    ],
    [
      { kind: 'cap', sphereRadiusMm: 15, heightMm: 27 },
      { x: 30, y: 30, z: 27 },
    ],
    [
      { kind: 'torus', meanDiameterMm: 30, sectionDiameterMm: 6 },
      { x: 36, y: 36, z: 6 },
    ],
    [
      { kind: 'capsule', diameterMm: 10, lengthMm: 0 },
      { x: 10, y: 10, z: 10 },
    ],
  ] as [Shape, object][])('%j lies in %j', (shape, box) => {
    const { x, y, z } = shapeBox(shape) ?? { x: NaN, y: NaN, z: NaN };
    const [roundX, roundY, roundZ] = [x, y, z].map((side) => Number(side.toFixed(2)));
    expect({ x: roundX, y: roundY, z: roundZ }).toEqual(box);
  });

  it('refuses dimensions that contradict each other', () => {
    expect(() =>
      shapeBox({ kind: 'washer', outerDiameterMm: 10, innerDiameterMm: 20, thicknessMm: 2 }),
    ).toThrow(/innerDiameterMm/);
  });
});

describe('partBox', () => {
  const plate = { shape: { kind: 'plate', lengthMm: 60, widthMm: 30, thicknessMm: 3 }, count: 1 } as const;
  const hole = { shape: { kind: 'bar', diameterMm: 5, lengthMm: 3 }, count: 4, subtract: true } as const;

  it('is that of the one shape, whatever is cut out of it', () => {
    expect(partBox([plate, hole])).toEqual({ x: 60, y: 30, z: 3 });
  });

  it('is not made up for shapes that are joined: nothing says where each sits', () => {
    expect(partBox([plate, { ...plate, count: 2 }])).toBeNull();
    expect(partBox([{ ...plate, count: 2 }])).toBeNull();
    expect(partBox([])).toBeNull();
  });
});
