import { checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { Job } from './job.ts';
import { priceJob, type PricedJob } from './price-job.ts';

export interface QuantityBreak extends PricedJob {
  /**
   * The smallest quantity, below the next break, at which this break's unit price would come to more than the whole next
   * break: from there on the next break is cheaper. Null when that never happens, and at the last break.
   */
  nextBreakCheaperFrom: number | null;
  /** The same in words, to put beside a printed list, `¤` for the currency; empty when it never happens. */
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
export function priceQuantities(given: { job: Job; quantities: readonly number[] }): QuantityBreak[] {
  const { job, quantities } = given;
  if (!Array.isArray(quantities) || quantities.length === 0 || new Set(quantities).size < quantities.length) {
    const allowed = 'at least one quantity, each once';
    throw new CalcError({ code: 'malformed', argument: 'quantities', given: quantities, allowed });
  }
  const prices = quantities
    .map((quantity: number, i) => checkWhole(`quantities[${i}]`, quantity, { min: 1, max: 1_000_000 }))
    .sort((a, b) => a - b)
    .map((quantity) => priceJob({ ...job, quantity }));
  return prices.map((price, i) => ({ ...price, ...nextBreak(price, prices[i + 1]) }));
}

function nextBreak(
  { quantity, unitPrice }: PricedJob,
  next: PricedJob | undefined,
): Pick<QuantityBreak, 'nextBreakCheaperFrom' | 'nextBreakMessage'> {
  const none = { nextBreakCheaperFrom: null, nextBreakMessage: '' };
  if (!next || unitPrice === 0) return none;
  // The residue of binary division must not turn an equal price into a dearer one.
  const equal = Math.floor((next.priceTotal / unitPrice) * (1 + 1e-12));
  const from = Math.max(quantity, equal + 1);
  if (from >= next.quantity) return none;
  return {
    nextBreakCheaperFrom: from,
    nextBreakMessage:
      `From ${from} pieces on, ${next.quantity} pieces for ¤${next.priceTotal.toFixed(2)} cost less ` +
      `than ¤${unitPrice.toFixed(4)} each.`,
  };
}
