import { bisectLeft } from 'd3-array';

interface Line {
  x: readonly number[];
  /** Null where nothing is drawn. */
  y: readonly (number | null)[];
  /** Indices at which the line starts anew. */
  restarts: ReadonlySet<number>;
}

interface View {
  /** What of `x` is drawn. */
  domain: readonly [number, number];
  /** Pixels across. */
  width: number;
}

/** The indices in view, with one more on either side, so that lines run on to the edge. */
export const indicesInView = (x: readonly number[], [from, to]: readonly [number, number]) => ({
  first: Math.max(0, bisectLeft(x, from) - 1),
  last: Math.min(x.length - 1, bisectLeft(x, to)),
});

/** The index whose `x` lies nearest; -1 when there is none. */
export function nearestIndex(x: readonly number[], value: number): number {
  const after = bisectLeft(x, value);
  const before = after - 1;
  if (after >= x.length) return before;
  if (before < 0) return after;
  return value - (x[before] ?? 0) < (x[after] ?? 0) - value ? before : after;
}

/**
 * The indices a line needs so that it looks as if every point were drawn: of each pixel column the first, the lowest,
 * the highest and the last. A restart begins a column of its own.
 *
 * @example
 * minMaxDownsample({ x, y, restarts: new Set([0]) }, { domain: [0, 7000], width: 900 }).length // at most 3600
 */
export function minMaxDownsample({ x, y, restarts }: Line, { domain, width }: View): number[] {
  const { first, last } = indicesInView(x, domain);
  const perPixel = (domain[1] - domain[0]) / width;
  const kept: number[] = [];
  let column: { key: number; indices: number[] } | null = null;
  const finish = () => {
    if (column) kept.push(...extremesOf(column.indices, y));
  };
  for (let index = first; index <= last; index++) {
    const key = Math.floor(((x[index] ?? 0) - domain[0]) / perPixel);
    if (column === null || column.key !== key || restarts.has(index) || (y[index] ?? null) === null) {
      finish();
      column = { key, indices: [] };
    }
    column.indices.push(index);
  }
  finish();
  return kept;
}

function extremesOf(indices: readonly number[], y: readonly (number | null)[]): number[] {
  if (indices.length <= 4) return [...indices];
  const valueAt = (index: number) => y[index] ?? 0;
  const least = indices.reduce((best, index) => (valueAt(index) < valueAt(best) ? index : best));
  const most = indices.reduce((best, index) => (valueAt(index) > valueAt(best) ? index : best));
  return [...new Set([indices[0] ?? 0, least, most, indices.at(-1) ?? 0])].sort((a, b) => a - b);
}

/**
 * Things on one line that keep apart: each stands for itself and for those too close behind it.
 *
 * @example
 * clusterByDistance([{ x: 0 }, { x: 3 }, { x: 20 }], 10) // [{ first: { x: 0 }, rest: [{ x: 3 }] }, { first: { x: 20 }, rest: [] }]
 */
export function clusterByDistance<T extends { x: number }>(
  sorted: readonly T[],
  distance: number,
): { first: T; rest: T[] }[] {
  const groups: { first: T; rest: T[] }[] = [];
  for (const one of sorted) {
    const group = groups.at(-1);
    if (group && one.x - group.first.x < distance) group.rest.push(one);
    else groups.push({ first: one, rest: [] });
  }
  return groups;
}
