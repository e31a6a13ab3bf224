/** An instant of a series as the rest of the pages take it. */
export const isoOf = (atMs: number): string => new Date(atMs).toISOString();

const DAY_MS = 86_400_000;

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
