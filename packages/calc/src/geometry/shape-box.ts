import { checkWhole } from '../check.ts';
import { measureShape } from './shape-area.ts';
import type { Feature } from './part-area.ts';
import type { Shape } from './shapes/index.ts';

/** The sides of the smallest upright box around something, as it lies in its own axes. */
export interface Box {
  x: number;
  y: number;
  z: number;
}

/**
 * The box around one shape, in mm: length along x, width along y, height or thickness along z.
 *
 * Null where the dimensions of the shape do not say how far it reaches: a constant section known by its perimeter, a sheet or
 * mesh known by its face, and what is only ever cut out of another shape.
 * Source: solid geometry. Errors: those of {@link shapeArea}.
 *
 * @example
 * shapeBox({ kind: 'washer', outerDiameterMm: 20, innerDiameterMm: 10, thicknessMm: 2 }) // { x: 20, y: 20, z: 2 }
 */
export function shapeBox(shape: Shape): Box | null {
  measureShape(shape, '');
  const round = (diameter: number, length: number): Box => ({ x: diameter, y: diameter, z: length });
  switch (shape.kind) {
    case 'plate':
    case 'plateWithHoles':
      return { x: shape.lengthMm, y: shape.widthMm, z: shape.thicknessMm };
    case 'blade':
      return { x: shape.lengthMm, y: Math.max(shape.spineMm, shape.edgeMm), z: shape.heightMm };
    case 'wedge':
      return { x: shape.lengthMm, y: shape.spineMm, z: shape.heightMm };
    case 'hexBar':
      return { x: (2 / Math.sqrt(3)) * shape.acrossFlatsMm, y: shape.acrossFlatsMm, z: shape.lengthMm };
    case 'bar':
    case 'thread':
      return round(shape.diameterMm, shape.lengthMm);
    case 'stud':
      return round(shape.diameterMm, shape.threadLengthMm + shape.shankLengthMm);
    case 'cone':
      return round(shape.diameterMm, shape.heightMm);
    case 'frustum':
      return round(shape.largeDiameterMm, shape.heightMm);
    case 'sphere':
      return round(shape.diameterMm, shape.diameterMm);
    case 'cap':
    case 'capClosed': {
      const { sphereRadiusMm: R, heightMm: h } = shape;
      return round(h < R ? 2 * Math.sqrt(h * (2 * R - h)) : 2 * R, h);
    }
    case 'torus':
      return round(shape.meanDiameterMm + shape.sectionDiameterMm, shape.sectionDiameterMm);
    case 'capsule':
      return round(shape.diameterMm, shape.lengthMm + shape.diameterMm);
    case 'tube':
    case 'tubeOuter':
      return round(shape.outerDiameterMm, shape.lengthMm);
    case 'washer':
      return round(shape.outerDiameterMm, shape.thicknessMm);
    case 'cup':
      return round(shape.outerDiameterMm, shape.heightMm);
    case 'spring':
      return round(
        shape.meanDiameterMm + shape.wireDiameterMm,
        shape.coils * shape.pitchMm + shape.wireDiameterMm,
      );
    case 'extrusion':
    case 'perforatedSquare':
    case 'perforatedStaggered':
    case 'meshStraight':
    case 'meshCrimped':
    case 'tappedHole':
      return null;
  }
}

/**
 * The box around a part that is described by its shapes: that of its one shape, whatever is cut out of it. Null where several
 * are joined, since nothing says where each sits on the other.
 *
 * Errors: those of {@link shapeBox}, and of a count that is no whole number.
 *
 * @example
 * partBox([{ shape: { kind: 'bar', diameterMm: 10, lengthMm: 80 }, count: 1 }]) // { x: 10, y: 10, z: 80 }
 */
export function partBox(features: readonly Feature[]): Box | null {
  features.forEach(({ count = 1 }, index) => checkWhole(`features[${index}].count`, count, { min: 0 }));
  const [body, ...others] = features.filter(({ subtract }) => !subtract);
  if (!body || others.length > 0 || (body.count ?? 1) !== 1) return null;
  return shapeBox(body.shape);
}
