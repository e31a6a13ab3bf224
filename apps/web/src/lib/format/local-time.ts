import { shopClock } from './time.ts';

/**
 * The instant at which a clock in the shop reads this; null while it is not a date and a time. Where clocks go back
 * and a time comes twice, the first of the two.
 *
 * @example
 * instantAt({ local: '2026-04-01T00:05', timeZone: 'Europe/Vienna' }) // '2026-03-31T22:05:00.000Z'
 */
export function instantAt({ local, timeZone }: { local: string; timeZone: string }): string | null {
  const wanted = Date.parse(`${local}Z`);
  if (local.length < 16 || Number.isNaN(wanted)) return null;
  const ahead = (ms: number) => shopClock({ at: new Date(ms).toISOString(), timeZone }) - ms;
  const first = wanted - ahead(wanted - 86_400_000);
  return new Date(first + ahead(first) === wanted ? first : wanted - ahead(wanted)).toISOString();
}

/**
 * An instant as a field for date and time holds it.
 *
 * @example
 * localAt({ at: '2026-03-31T22:05:00Z', timeZone: 'Europe/Vienna' }) // '2026-04-01T00:05'
 */
export const localAt = ({ at, timeZone }: { at: string; timeZone: string }): string =>
  new Date(shopClock({ at, timeZone })).toISOString().slice(0, 16);
