const DAY_MS = 24 * 3600 * 1000;

/**
 * A calendar day so many days later.
 *
 * @example
 * dayAfter('2026-03-30', 3) // '2026-04-02'
 */
export const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
