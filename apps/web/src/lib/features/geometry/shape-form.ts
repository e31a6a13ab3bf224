import { SHAPES, SHAPE_KINDS, type ShapeKind } from '@huelot/calc';

/** A shape while it is typed: a dimension is null until it is there. */
export interface TypedShape {
  kind: string;
  [dimension: string]: string | number | null;
}

export const isShapeKind = (kind: string): kind is ShapeKind => (SHAPE_KINDS as string[]).includes(kind);

/** Whether every dimension of a shape is there. */
export const isDrawable = (shape: TypedShape): shape is { kind: ShapeKind } & Record<string, number> =>
  isShapeKind(shape.kind) &&
  Object.keys(SHAPES[shape.kind].parameters).every((name) => typeof shape[name] === 'number');

/**
 * A shape of another kind that keeps the dimensions both have, so that trying kinds costs nothing.
 *
 * @example
 * asKind({ kind: 'bar', diameterMm: 8, lengthMm: 60 }, 'capsule') // { kind: 'capsule', diameterMm: 8, lengthMm: 60 }
 */
export function asKind(shape: TypedShape, kind: ShapeKind): TypedShape {
  const names = Object.keys(SHAPES[kind].parameters);
  return { kind, ...Object.fromEntries(names.map((name) => [name, shape[name] ?? null])) };
}

/** Shapes in groups a person looks for them by. */
export const shapeGroups: readonly { label: string; kinds: readonly ShapeKind[] }[] = [
  { label: 'Flat', kinds: ['plate', 'plateWithHoles', 'washer', 'perforatedSquare', 'perforatedStaggered'] },
  { label: 'Bars and sections', kinds: ['bar', 'hexBar', 'capsule', 'extrusion', 'blade', 'wedge'] },
  { label: 'Hollow', kinds: ['tube', 'tubeOuter', 'cup'] },
  { label: 'Turned and round', kinds: ['cone', 'frustum', 'sphere', 'cap', 'capClosed', 'torus'] },
  { label: 'Threads', kinds: ['stud', 'thread', 'tappedHole'] },
  { label: 'Wire', kinds: ['spring', 'meshStraight', 'meshCrimped'] },
];

/** Shapes that can be cut out of others, as the calculation says which. */
export const canBeCut = (kind: string): boolean =>
  ['bar', 'hexBar', 'extrusion', 'cone', 'frustum', 'cap', 'capClosed', 'tappedHole'].includes(kind);

/** Whether a cut of this kind goes through or may stop short. */
export const hasTwoEnds = (kind: string): boolean =>
  ['bar', 'hexBar', 'extrusion', 'frustum', 'tappedHole'].includes(kind);
