/** An instant of a series as the rest of the pages take it. */
export const isoOf = (atMs: number): string => new Date(atMs).toISOString();

const DAY_MS = 86_400_000;

/**
 * How the ticks of so long a stretch of the shop's clock are written.
 *
 * @example
 * tickWords(3650 * 86_400_000)(Date.UTC(2026, 0, 1)) // 'Jan 2026'
 */
export function tickWords(spanMs: number): (clock: number) => string {
  const options: Intl.DateTimeFormatOptions =
    spanMs > 300 * DAY_MS
      ? { month: 'short', year: 'numeric' }
      : spanMs > 4 * DAY_MS
        ? { day: 'numeric', month: 'short' }
        : { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' };
  const format = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', ...options });
  return (clock) => format.format(clock);
}
