/**
 * Instants and days as people read them. An instant is UTC in the record and shown in the shop's time zone, never
 * in the browser's: two people in two countries read the same clock on the same lot.
 */
type Zoned = { at: string; timeZone: string };

export const DAY_MS = 86_400_000;

const formats = new Map<string, Intl.DateTimeFormat>();

function formatter(timeZone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = timeZone + JSON.stringify(options);
  let known = formats.get(key);
  if (!known) {
    known = new Intl.DateTimeFormat('en-GB', { timeZone, ...options });
    formats.set(key, known);
  }
  return known;
}

/**
 * @example
 * dateTime({ at: '2026-03-31T22:05:00Z', timeZone: 'Europe/Vienna' }) // '1 Apr 2026, 00:05'
 */
export function dateTime({ at, timeZone }: Zoned): string {
  return `${dateOf({ at, timeZone })}, ${clock({ at, timeZone })}`;
}

/**
 * @example
 * dateOf({ at: '2026-03-31T22:05:00Z', timeZone: 'Europe/Vienna' }) // '1 Apr 2026'
 */
export function dateOf({ at, timeZone }: Zoned): string {
  return formatter(timeZone, { day: 'numeric', month: 'short', year: 'numeric' }).format(new Date(at));
}

/**
 * @example
 * clock({ at: '2026-03-31T22:05:00Z', timeZone: 'Europe/Vienna' }) // '00:05'
 */
export function clock({ at, timeZone }: Zoned): string {
  return formatter(timeZone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(new Date(at));
}

/**
 * A calendar day, which has no time zone of its own.
 *
 * @example
 * dayInWords('2026-03-31') // '31 Mar 2026'
 */
export function dayInWords(day: string): string {
  return dateOf({ at: `${day}T12:00:00Z`, timeZone: 'UTC' });
}

/**
 * The shop's calendar day at an instant, as the contracts write days.
 *
 * @example
 * dayAt({ at: '2026-03-31T22:05:00Z', timeZone: 'Europe/Vienna' }) // '2026-04-01'
 */
export function dayAt({ at, timeZone }: Zoned): string {
  const parts = formatter(timeZone, { year: 'numeric', month: '2-digit', day: '2-digit' });
  const found = new Map(parts.formatToParts(new Date(at)).map(({ type, value }) => [type, value]));
  return `${found.get('year')}-${found.get('month')}-${found.get('day')}`;
}

/**
 * The shop's clock at an instant, as the milliseconds at which a clock in UTC reads the same: for scales and sums that
 * should run in shop days.
 *
 * @example
 * shopClock({ at: '2026-03-31T22:05:00Z', timeZone: 'Europe/Vienna' }) // Date.UTC(2026, 3, 1, 0, 5)
 */
export function shopClock({ at, timeZone }: Zoned): number {
  const seconds = new Date(at).getUTCSeconds();
  return Date.parse(`${dayAt({ at, timeZone })}T${clock({ at, timeZone })}Z`) + seconds * 1000;
}

/**
 * How far a day lies from today, in words; `today` is the shop's day.
 *
 * @example
 * daysAway('2026-04-02', '2026-04-01') // 'tomorrow'
 */
export function daysAway(day: string, today: string): string {
  const days = Math.round((Date.parse(day) - Date.parse(today)) / DAY_MS);
  if (days === 0) return 'today';
  return new Intl.RelativeTimeFormat('en', { numeric: 'auto' }).format(days, 'day');
}

/**
 * A duration as hours, minutes and seconds, without the parts that are not there.
 *
 * @example
 * duration(5400) // '1 h 30 min'
 * duration(95) // '1 min 35 s'
 */
export function duration(seconds: number): string {
  const total = Math.round(Math.abs(seconds));
  const parts = [
    [Math.floor(total / 3600), 'h'],
    [Math.floor((total % 3600) / 60), 'min'],
    [total % 60, 's'],
  ] as const;
  const words = parts.filter(([amount]) => amount > 0).map(([amount, unit]) => `${amount} ${unit}`);
  return (seconds < 0 ? '−' : '') + (words.length === 0 ? '0 s' : words.join(' '));
}

/**
 * A calendar day so many days later.
 *
 * @example
 * dayAfter('2026-03-30', 3) // '2026-04-02'
 */
export const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
