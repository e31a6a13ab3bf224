import { HOLLOWS } from './hollow.ts';
import { SOLIDS } from './solids.ts';
import type { ShapeDefinition } from './shape.ts';
import { WIRES_AND_THREADS } from './wire-and-thread.ts';

const DEFINITIONS = { ...SOLIDS, ...HOLLOWS, ...WIRES_AND_THREADS };

export type ShapeKind = keyof typeof DEFINITIONS;

/** A shape with its dimensions, in mm (mm² for areas); `kind` says which dimensions there are. */
export type Shape = {
  [K in ShapeKind]: { kind: K } & Record<keyof (typeof DEFINITIONS)[K]['parameters'], number>;
}[ShapeKind];

/**
 * Every shape: its name in words, formula, and the dimensions a form asks for, in the order of the table. Formulas of
 * solid geometry; threads after ISO 68-1.
 */
export const SHAPES: Record<ShapeKind, ShapeDefinition> = DEFINITIONS;

export const SHAPE_KINDS = Object.keys(SHAPES) as ShapeKind[];
