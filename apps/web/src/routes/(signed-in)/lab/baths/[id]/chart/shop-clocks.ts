import { shopClock } from '$lib/time.ts';

const WEEK_MS = 7 * 86_400_000;

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
