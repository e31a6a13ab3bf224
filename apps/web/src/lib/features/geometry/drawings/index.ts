import type { ShapeKind } from '@huelot/calc';
import type { Draw } from './drawing.ts';
import { hollows } from './hollows.ts';
import { solids } from './solids.ts';
import { wiresAndThreads } from './wires-and-threads.ts';

/** How each shape is drawn. */
export const drawings: Record<ShapeKind, Draw> = { ...solids, ...hollows, ...wiresAndThreads };

export type { Dimension, Draw, View } from './drawing.ts';
