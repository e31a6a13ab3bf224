/** How days are written in a table. */
export type DayOrder = 'year-month-day' | 'day-month-year' | 'month-day-year';
const orders = {
  'year-month-day': ['year', 'month', 'day'],
  'day-month-year': ['day', 'month', 'year'],
  'month-day-year': ['month', 'day', 'year'],
} as const;

/**
 * A day, or a day and a time, of a table as `2026-03-31T14:05`; one without a time is taken at noon. Null for what is no day of
 * the calendar after 1899.
 *
 * @example
 * cellTime('31.03.2026', 'day-month-year') // '2026-03-31T12:00'
 */
export function cellTime(text: string, order: DayOrder): string | null {
  const match = /^(\d{1,4})[-./ ](\d{1,2})[-./ ](\d{1,4})(?:[T ,]+(\d{1,2}):(\d{2})(?::\d{2})?)?$/.exec(text);
  if (match === null) return null;
  const parts = new Map<string, number>(orders[order].map((name, index) => [name, Number(match[index + 1])]));
  const [year = 0, month = 0, day = 0] = ['year', 'month', 'day'].map((name) => parts.get(name));
  const [hour, minute] = [Number(match[4] ?? 12), Number(match[5] ?? 0)];
  const date = new Date(Date.UTC(year, month - 1, day, hour, minute));
  const isReal =
    year >= 1900 &&
    date.getUTCFullYear() === year &&
    date.getUTCMonth() === month - 1 &&
    date.getUTCDate() === day &&
    hour < 24 &&
    minute < 60;
  return isReal ? date.toISOString().slice(0, 16) : null;
}
