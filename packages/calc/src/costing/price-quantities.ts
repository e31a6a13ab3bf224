import { checkFinite, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { Job } from './job.ts';
import { roundHalfAway, unitPriceDigits } from './money.ts';
import { piecesText } from './pieces-text.ts';
import { priceJob, type PricedJob } from './price-job.ts';

export interface QuantityBreak extends PricedJob {
  /**
   * The smallest quantity, below the next break, at which this break's unit price, rounded as an invoice rounds it, would
   * come to more than the whole next break: from there on the next break is cheaper. Null when that never happens, and at
   * the last break.
   */
  nextBreakCheaperFrom: number | null;
  /** The same in words, to put beside a printed list, `¤` for the currency of the price; empty when it never happens. */
  nextBreakMessage: string;
}

/**
 * Prices of a list of quantities, each computed in full: set-up, loads and minimum charge do not scale, so a unit price
 * never does. Warns where a reader of the list who multiplies a break's unit price pays more than for the next break.
 *
 * Computed in full, the price of the lot never falls as the quantity rises, at the same job and rates: every line grows
 * with the pieces or with the loads, or stays.
 *
 * The quantity of `job` itself is not used. Quantities: 1 to 1,000,000, whole, each once; the result is in rising order.
 * Source: as {@link priceJob}. Errors: those of {@link priceJob}; `malformed` for an empty list or a repeated quantity.
 *
 * @example
 * priceQuantities({ job: EXAMPLE_JOB, quantities: [25, 120] }).map((row) => row.nextBreakCheaperFrom) // [47, null]
 */
export function priceQuantities({
  job,
  quantities,
}: {
  job: Job;
  quantities: readonly number[];
}): QuantityBreak[] {
  checkFinite('job', job);
  if (!Array.isArray(quantities) || quantities.length === 0 || new Set(quantities).size < quantities.length) {
    const allowed = 'at least one quantity, each once';
    throw new CalcError({ code: 'malformed', argument: 'quantities', given: quantities, allowed });
  }
  const prices = quantities
    .map((quantity: number, i) => checkWhole(`quantities[${i}]`, quantity, { min: 1, max: 1_000_000 }))
    .sort((a, b) => a - b)
    .map((quantity) => priceJob({ ...job, quantity }));
  const minorDigits = job.currency?.minorDigits ?? 2;
  return prices.map((price, i) => ({ ...price, ...nextBreak({ price, next: prices[i + 1], minorDigits }) }));
}

function nextBreak({
  price: { quantity, unitPrice },
  next,
  minorDigits,
}: {
  price: PricedJob;
  next: PricedJob | undefined;
  minorDigits: number;
}): Pick<QuantityBreak, 'nextBreakCheaperFrom' | 'nextBreakMessage'> {
  const none = { nextBreakCheaperFrom: null, nextBreakMessage: '' };
  if (!next || unitPrice === 0) return none;
  let from = Math.max(quantity, Math.floor(next.priceTotal / unitPrice));
  // A unit price is rounded: multiplied, it may pass the next break by a fraction of the smallest coin, which nobody pays.
  while (from < next.quantity && roundHalfAway(from * unitPrice, minorDigits) <= next.priceTotal) from += 1;
  if (from >= next.quantity) return none;
  return {
    nextBreakCheaperFrom: from,
    nextBreakMessage:
      `From ${piecesText(from)} on, ${piecesText(next.quantity)} for ¤${next.priceTotal.toFixed(minorDigits)} cost less ` +
      `than ¤${unitPrice.toFixed(unitPriceDigits(minorDigits))} each.`,
  };
}
