import { completeJob } from './check-job.ts';
import { type Consumption, total } from './consumption.ts';
import { type CostLine, costLines } from './cost-lines.ts';
import type { Job } from './job.ts';
import { type LoadWarning, loadWarnings } from './load-warnings.ts';
import { roundMoney } from './money.ts';
import { explainPlan, type LoadPlan } from './pieces-per-load.ts';
import { priceAmounts } from './price-amounts.ts';
import { priceSteps, type PriceStepKey } from './price-steps.ts';

export interface PricedJob {
  quantity: number;
  plan: LoadPlan;
  consumption: Consumption;
  /** The direct cost line by line. */
  lines: CostLine[];
  /** From the direct cost to the price. Lines and steps together add up to `priceTotal`. */
  steps: CostLine<PriceStepKey>[];
  directCost: number;
  overhead: number;
  cost: number;
  priceBeforeMinimum: number;
  minimumApplied: boolean;
  priceAfterMinimum: number;
  /** Expedite included, not yet rounded. */
  priceBeforeRounding: number;
  /** Of the lot, rounded half away from zero to 0.01; one-off charges not included. */
  priceTotal: number;
  /** `priceTotal` over the pieces, to 0.0001. */
  unitPrice: number;
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
 * larger of that and the minimum lot charge, expedite, rounding half away from zero to 0.01. Tooling and one-off tests
 * are added after that, neither marked up nor expedited. Nothing is rounded before the total.
 *
 * Warns when one more piece would start a load, and when the last load carries so few pieces that each would be cheaper
 * without them.
 *
 * Money is a plain number in any currency. Lines hold quotients that have no exact decimal (40 s of an hourly rate), so
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
  const { rates, charges } = complete;
  const { consumption, priceTotal } = price;
  const oneOffTotal = roundMoney(total(charges.oneOffs.map(({ amount }) => amount)));
  return {
    ...price,
    plan: explainPlan(complete, count),
    lines: costLines({ job: complete, loads: count.loads, consumption, amounts }),
    steps: priceSteps(complete, { count, amounts, ...price }),
    minimumApplied: rates.minimumLot > price.priceBeforeMinimum,
    oneOffTotal,
    priceWithOneOffs: roundMoney(priceTotal + oneOffTotal),
    marginShare: rates.marginShare,
    markupShare: rates.marginShare / (1 - rates.marginShare),
    warnings: loadWarnings(complete, { count, amounts, ...price }),
  };
}
