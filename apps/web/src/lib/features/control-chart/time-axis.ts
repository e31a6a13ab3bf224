import { DAY_MS, shopClock } from '$lib/format/time.ts';

/** What of the time line is drawn, on the shop's clock in milliseconds. */
export type View = readonly [number, number];

/** Nothing is gained by looking at less than six hours of a bath. */
const MIN_SPAN_MS = 6 * 3_600_000;

/**
 * A view kept inside the whole, as wide as it was where that is possible.
 *
 * @example
 * within([-5, 5], [0, 100], 1) // [0, 10]
 */
export function within([from, to]: View, [start, end]: View, least = MIN_SPAN_MS): View {
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

const WEEK_MS = 7 * DAY_MS;

/**
 * The shop's clock at many instants (see `shopClock`). A week in which the clock does not change is asked about once, so
 * that ten years cost a few hundred questions of the calendar and not many thousands.
 *
 * @example
 * shopClocks({ atMs: [Date.UTC(2026, 2, 31, 22, 5)], timeZone: 'Europe/Vienna' }) // [Date.UTC(2026, 3, 1, 0, 5)]
 */
export function shopClocks({ atMs, timeZone }: { atMs: readonly number[]; timeZone: string }): number[] {
  const ahead = (ms: number) => {
    const second = Math.floor(ms / 1000) * 1000;
    return shopClock({ at: new Date(second).toISOString(), timeZone }) - second;
  };
  const atStart = new Map<number, number>();
  const startOf = (week: number) => {
    const known = atStart.get(week) ?? ahead(week * WEEK_MS);
    atStart.set(week, known);
    return known;
  };
  return atMs.map((ms) => {
    const week = Math.floor(ms / WEEK_MS);
    const offset = startOf(week);
    return ms + (offset === startOf(week + 1) ? offset : ahead(ms));
  });
}

/** An instant of a series as the rest of the pages take it. */
export const isoOf = (atMs: number): string => new Date(atMs).toISOString();

const written = (options: Intl.DateTimeFormatOptions) =>
  new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', ...options });
const month = written({ month: 'short', year: 'numeric' });
const day = written({ day: 'numeric', month: 'short' });
const hour = written({ hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });

/**
 * How the ticks of so long a stretch of the shop's clock are written. Among hours, midnight names its day.
 *
 * @example
 * tickWords(3650 * 86_400_000)(Date.UTC(2026, 0, 1)) // 'Jan 2026'
 */
export function tickWords(spanMs: number): (clock: number) => string {
  if (spanMs > 300 * DAY_MS) return (clock) => month.format(clock);
  if (spanMs > 4 * DAY_MS) return (clock) => day.format(clock);
  return (clock) => (clock % DAY_MS === 0 ? day : hour).format(clock);
}
