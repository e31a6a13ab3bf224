import type { Quantity } from '@huelot/calc';
import { moneyText } from '@huelot/contracts';
import { session } from '../session.svelte.ts';
import { clock, dateOf, dateTime, dayAt, daysAway, dayInWords } from './time.ts';
import { quantityText } from './quantity.ts';
import { uncertainText } from './uncertainty.ts';

const zoned = (at: string) => ({ at, timeZone: session.timeZone });
const today = () => dayAt(zoned(new Date().toISOString()));

/**
 * Values as the person at this screen reads them: their units, the shop's clock, the shop's currency.
 *
 * @example
 * format.dateTime(lot.releasedAt)            // '1 Apr 2026, 00:05'
 * format.quantity('area', part.areaMm2)      // '4.20 dm²'
 * format.uncertain('mass', { value: 28.104, plusMinus: 0.229 }) // '28.10 ± 0.23 kg'
 * format.money(total, quotation.currency)    // 'EUR 372.68'
 */
export const format = {
  dateTime: (at: string) => dateTime(zoned(at)),
  date: (at: string) => dateOf(zoned(at)),
  clock: (at: string) => clock(zoned(at)),
  day: dayInWords,
  today,
  daysAway: (day: string) => daysAway(day, today()),
  money: (amount: string, currency = session.currency) => moneyText(amount, currency),
  quantity: (quantity: Quantity, value: number) => quantityText({ quantity, value, system: session.units }),
  uncertain: (quantity: Quantity, interval: { value: number; plusMinus: number }) =>
    uncertainText({ quantity, ...interval, system: session.units }),
};
