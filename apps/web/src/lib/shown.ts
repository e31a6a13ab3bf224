import type { Quantity } from '@huelot/calc';
import { money } from './money.ts';
import { session } from './session.svelte.ts';
import { clock, dateOf, dateTime, dayAt, daysAway, dayInWords } from './time.ts';
import { quantityText } from './units/quantity.ts';
import { uncertainText } from './units/uncertainty.ts';

const zoned = (at: string) => ({ at, timeZone: session.timeZone });
const today = () => dayAt(zoned(new Date().toISOString()));

/**
 * Values as the person at this screen reads them: their units, the shop's clock, the shop's currency.
 *
 * @example
 * shown.dateTime(lot.releasedAt)            // '1 Apr 2026, 00:05'
 * shown.quantity('area', part.areaMm2)      // '4.20 dm²'
 * shown.uncertain('mass', { value: 28.104, plusMinus: 0.229 }) // '28.10 ± 0.23 kg'
 * shown.money(total, quotation.currency)    // '€372.68'
 */
export const shown = {
  dateTime: (at: string) => dateTime(zoned(at)),
  date: (at: string) => dateOf(zoned(at)),
  clock: (at: string) => clock(zoned(at)),
  day: dayInWords,
  today,
  daysAway: (day: string) => daysAway(day, today()),
  money: (amount: string, currency = session.currency) => money(amount, currency),
  quantity: (quantity: Quantity, value: number) => quantityText({ quantity, value, system: session.units }),
  uncertain: (quantity: Quantity, of: { value: number; plusMinus: number }) =>
    uncertainText({ quantity, ...of, system: session.units }),
};
