/** What of the time line is drawn, on the shop's clock in milliseconds. */
export type View = readonly [number, number];

/** Nothing is gained by looking at less than six hours of a bath. */
const LEAST_MS = 6 * 3_600_000;

/**
 * A view kept inside the whole, as wide as it was where that is possible.
 *
 * @example
 * within([-5, 5], [0, 100], 1) // [0, 10]
 */
export function within([from, to]: View, [start, end]: View, least = LEAST_MS): View {
  const span = Math.min(Math.max(to - from, least), end - start);
  const middle = (from + to) / 2;
  const begin = Math.min(Math.max(middle - span / 2, start), end - span);
  return [begin, begin + span];
}

/**
 * Wider by a factor above 1, narrower by one below, about `centre`.
 *
 * @example
 * scaled([0, 100], 0.5, 50) // [25, 75]
 */
export const scaled = ([from, to]: View, factor: number, centre = (from + to) / 2): View => [
  centre - (centre - from) * factor,
  centre + (to - centre) * factor,
];

/** Moved by a share of its own width; negative goes back in time. */
export const moved = ([from, to]: View, share: number): View => [
  from + (to - from) * share,
  to + (to - from) * share,
];

/** The same width, moved just so far that `at` lies inside. */
export function showing(view: View, at: number): View {
  const [from, to] = view;
  if (at >= from && at <= to) return view;
  const share = (at - (from + to) / 2) / (to - from);
  return moved(view, share);
}
