interface Line {
  x: readonly number[];
  /** Null where nothing is drawn. */
  y: readonly (number | null)[];
  /** Places at which the line starts anew. */
  restarts: ReadonlySet<number>;
}

interface View {
  /** What of `x` is drawn. */
  domain: readonly [number, number];
  /** Pixels across. */
  width: number;
}

/** First place of `x` (rising) that is not below `value`. */
export function placeAt(x: readonly number[], value: number): number {
  let [low, high] = [0, x.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((x[middle] ?? Infinity) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The places in view, with one more on either side, so that lines run on to the edge. */
export const placesInView = (x: readonly number[], [from, to]: readonly [number, number]) => ({
  first: Math.max(0, placeAt(x, from) - 1),
  last: Math.min(x.length - 1, placeAt(x, to)),
});

/** The place whose `x` lies nearest; -1 when there is none. */
export function nearestPlace(x: readonly number[], value: number): number {
  const after = placeAt(x, value);
  const before = after - 1;
  if (after >= x.length) return before;
  if (before < 0) return after;
  return value - (x[before] ?? 0) < (x[after] ?? 0) - value ? before : after;
}

/**
 * The places a line needs so that it looks as if every point were drawn: of each pixel column the first, the lowest,
 * the highest and the last. A restart begins a column of its own.
 *
 * @example
 * thinnedPlaces({ x, y, restarts: new Set([0]) }, { domain: [0, 7000], width: 900 }).length // at most 3600
 */
export function thinnedPlaces({ x, y, restarts }: Line, { domain, width }: View): number[] {
  const { first, last } = placesInView(x, domain);
  const perPixel = (domain[1] - domain[0]) / width;
  const kept: number[] = [];
  let column: { key: number; places: number[] } | null = null;
  const finish = () => {
    if (column) kept.push(...extremesOf(column.places, y));
  };
  for (let place = first; place <= last; place++) {
    const key = Math.floor(((x[place] ?? 0) - domain[0]) / perPixel);
    if (column === null || column.key !== key || restarts.has(place) || (y[place] ?? null) === null) {
      finish();
      column = { key, places: [] };
    }
    column.places.push(place);
  }
  finish();
  return kept;
}

function extremesOf(places: readonly number[], y: readonly (number | null)[]): number[] {
  if (places.length <= 4) return [...places];
  const at = (place: number) => y[place] ?? 0;
  const least = places.reduce((best, place) => (at(place) < at(best) ? place : best));
  const most = places.reduce((best, place) => (at(place) > at(best) ? place : best));
  return [...new Set([places[0] ?? 0, least, most, places.at(-1) ?? 0])].sort((a, b) => a - b);
}

/**
 * Things on one line that keep apart: each stands for itself and for those too close behind it.
 *
 * @example
 * apart([{ x: 0 }, { x: 3 }, { x: 20 }], 10) // [{ first: { x: 0 }, rest: [{ x: 3 }] }, { first: { x: 20 }, rest: [] }]
 */
export function apart<T extends { x: number }>(
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
