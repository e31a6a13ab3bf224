/** The room inside a chart's margins, in CSS pixels. */
export interface Frame {
  width: number;
  height: number;
}

export interface ChartTable {
  head: readonly string[];
  rows: readonly (readonly string[])[];
}

export interface Series {
  label: string;
  points: readonly { x: number; y: number }[];
  /** Points alone, for measurements; a line, for a model or a record in time. */
  mark?: 'line' | 'points' | 'both';
  colour?: string;
}

/** A level that something should stay on one side of, or between. */
export interface Limit {
  label: string;
  value: number;
  tone: 'target' | 'caution' | 'stop';
}

export interface Band {
  label: string;
  from: number;
  to: number;
}

/**
 * The colour of the n-th series. There are six; a seventh starts over, and is better drawn in a chart of its own.
 *
 * @example
 * seriesColour(0) // 'var(--series-1)'
 */
export const seriesColour = (at: number): string => `var(--series-${(at % 6) + 1})`;

/**
 * The least and greatest of some values, opened a little so that nothing lies on the edge.
 *
 * @example
 * extentOf([10, 20], 0.1) // [9, 21]
 */
export function extentOf(values: readonly number[], room = 0.06): [number, number] {
  if (values.length === 0) return [0, 1];
  const low = Math.min(...values);
  const high = Math.max(...values);
  const spare = high === low ? Math.abs(high) * room || 1 : (high - low) * room;
  return [low - spare, high + spare];
}
