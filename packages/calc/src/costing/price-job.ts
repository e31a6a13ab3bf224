import { completeJob } from './check-job.ts';
import { type Consumption, total } from './consumption.ts';
import { type CostLine, costLines } from './cost-lines.ts';
import type { Job } from './job.ts';
import { type LoadWarning, loadWarnings } from './load-warnings.ts';
import { roundHalfAway } from './money.ts';
import { explainPlan, type LoadPlan } from './pieces-per-load.ts';
import { priceAmounts } from './price-amounts.ts';
import { priceSteps, type PriceStepKey } from './price-steps.ts';

export interface PricedJob {
  quantity: number;
  plan: LoadPlan;
  consumption: Consumption;
  /** The direct cost line by line. */
  lines: CostLine[];
  /**
   * From the direct cost to the price. Lines and all steps but the rounding add up to `priceBeforeExchange`; that times
   * the rate of exchange and the rounding, in the currency of the price, to `priceTotal`.
   */
  steps: CostLine<PriceStepKey>[];
  directCost: number;
  overhead: number;
  cost: number;
  priceBeforeMinimum: number;
  minimumApplied: boolean;
  priceAfterMinimum: number;
  /** Expedite included, in the currency of the rates. */
  priceBeforeExchange: number;
  /** Units of the currency of the price for one of the rates; 1 where they are the same. */
  exchangeRate: number;
  /** In the currency of the price, as all that follows; not yet rounded. */
  priceBeforeRounding: number;
  /** Of the lot, rounded half away from zero to the decimals of its currency; one-off charges not included. */
  priceTotal: number;
  /** `priceTotal` over the pieces, to two decimals more. */
  unitPrice: number;
  /** Tooling and one-off tests, each exchanged and rounded. */
  oneOffs: { label: string; amount: number }[];
  oneOffTotal: number;
  priceWithOneOffs: number;
  marginShare: number;
  /** The markup on cost that the margin amounts to. */
  markupShare: number;
  warnings: LoadWarning[];
}

/**
 * The price of a lot, with every line of the build-up open to its last figure.
 *
 * Loads first, then the direct cost line by line, then in this order: overhead, margin (price = cost / (1 - margin)), the
 * larger of that and the minimum lot charge, expedite, exchange into the currency of the price, rounding half away from
 * zero to the decimals of that currency. Tooling and one-off tests are added after that, neither marked up nor expedited.
 * Nothing is rounded before the total.
 *
 * Warns when one more piece would start a load, and when the last load carries so few pieces that each would be cheaper
 * without them.
 *
 * Money is a plain number, the currency is the caller's to name. Lines hold quotients that have no exact decimal (40 s of an hourly rate), so
 * they are carried in binary with some fifteen figures and rounded once; `priceTotal`, `unitPrice`, `oneOffTotal` and
 * `priceWithOneOffs` are the binary numbers nearest to their decimal, and `toFixed` prints them exactly.
 *
 * Units and ranges: those of {@link JOB_INPUTS}. Source: cost elements and order of steps are common practice of job
 * shops, no source; margin and markup by definition.
 * Errors: `not-finite` or `out-of-range` with the path of the figure; `impossible` when no piece fits into a load, or
 * when margin and markup are both given or both missing.
 *
 * @example
 * priceJob(EXAMPLE_JOB)
 * // { priceTotal: 372.68, unitPrice: 1.5528, directCost: 213.830122, cost: 260.872749, minimumApplied: false }
 */
export function priceJob(job: Job): PricedJob {
  const complete = completeJob(job);
  const { count, amounts, ...price } = priceAmounts(complete);
  const { rates, charges, currency } = complete;
  const { consumption, priceTotal } = price;
  const rounded = (amount: number): number => roundHalfAway(amount, currency.minorDigits);
  const oneOffs = charges.oneOffs.map(({ label, amount }) => ({
    label,
    amount: rounded(amount * currency.exchangeRate),
  }));
  const oneOffTotal = rounded(total(oneOffs.map(({ amount }) => amount)));
  return {
    ...price,
    plan: explainPlan(complete, count),
    lines: costLines({ job: complete, loads: count.loads, consumption, amounts }),
    steps: priceSteps(complete, { count, amounts, ...price }),
    minimumApplied: rates.minimumLot > price.priceBeforeMinimum,
    exchangeRate: currency.exchangeRate,
    oneOffs,
    oneOffTotal,
    priceWithOneOffs: rounded(priceTotal + oneOffTotal),
    marginShare: rates.marginShare,
    markupShare: rates.marginShare / (1 - rates.marginShare),
    warnings: loadWarnings(complete, { count, amounts, ...price }),
  };
}
