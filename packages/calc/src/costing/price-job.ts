import { type CompleteJob, completeJob } from './check-job.ts';
import { type Consumption, consumptionOf, total } from './consumption.ts';
import { type CostLine, costLines } from './cost-lines.ts';
import { derived, figures } from './figure.ts';
import type { Job } from './job.ts';
import { type LoadWarning, loadWarnings } from './load-warnings.ts';
import { roundHalfAway, roundMoney } from './money.ts';
import { type LoadPlan, planLoads } from './pieces-per-load.ts';

/** What comes on top of the direct cost. */
export type PriceStepKey = 'overhead' | 'margin' | 'minimum' | 'expedite' | 'rounding';

export interface Price {
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
}

export interface PricedJob extends Price {
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
 * priceJob(EXAMPLE_JOB) // { priceTotal: 372.68, unitPrice: 1.5528, directCost: 213.830122, cost: 260.872749, minimumApplied: false }
 */
export function priceJob(job: Job): PricedJob {
  const price = priceComplete(completeJob(job));
  const at = (quantity: number) => priceComplete(completeJob({ ...job, quantity }));
  return { ...price, warnings: loadWarnings(price, at) };
}

export function priceComplete(job: CompleteJob): Price {
  const { quantity, rates, charges } = job;
  const plan = planLoads(job);
  const consumption = consumptionOf(job, plan);
  const lines = costLines(job, plan, consumption);

  const directCost = total(lines.map(({ amount }) => amount));
  const overhead = directCost * rates.overheadShare + consumption.labourHours * rates.overheadPerLabourHour;
  const cost = directCost + overhead;
  const priceBeforeMinimum = cost / (1 - rates.marginShare);
  const priceAfterMinimum = Math.max(priceBeforeMinimum, rates.minimumLot);
  const priceBeforeRounding = priceAfterMinimum * (1 + rates.expediteShare);
  const priceTotal = roundMoney(priceBeforeRounding);
  const oneOffTotal = roundMoney(total(charges.oneOffs.map(({ amount }) => amount)));

  const money = (label: string, value: number) => derived(label, value, '¤');
  const steps: CostLine<PriceStepKey>[] = [
    {
      key: 'overhead',
      label: 'Overhead',
      formula: 'direct cost × overhead + hours of labour × overhead per hour',
      inputs: [
        money('direct cost', directCost),
        derived('overhead on direct cost', rates.overheadShare, ''),
        derived('hours of labour', consumption.labourHours, 'h'),
        derived('overhead per hour of labour', rates.overheadPerLabourHour, '¤/h'),
      ],
      amount: overhead,
    },
    {
      key: 'margin',
      label: 'Margin',
      formula: 'cost / (1 - margin) - cost',
      inputs: [money('cost', cost), derived('margin', rates.marginShare, '')],
      amount: priceBeforeMinimum - cost,
    },
    {
      key: 'minimum',
      label: 'Up to the minimum lot charge',
      formula: 'minimum lot charge - price, when the price is lower',
      inputs: [...figures(job, 'rates.minimumLot'), money('price before', priceBeforeMinimum)],
      amount: priceAfterMinimum - priceBeforeMinimum,
    },
    {
      key: 'expedite',
      label: 'Expedite',
      formula: 'price after the minimum × expedite',
      inputs: [money('price after the minimum', priceAfterMinimum), ...figures(job, 'rates.expediteShare')],
      amount: priceBeforeRounding - priceAfterMinimum,
    },
    {
      key: 'rounding',
      label: 'Rounding',
      formula: 'to 0.01, half away from zero',
      inputs: [money('before rounding', priceBeforeRounding)],
      amount: priceTotal - priceBeforeRounding,
    },
  ];

  return {
    quantity,
    plan,
    consumption,
    lines,
    steps,
    directCost,
    overhead,
    cost,
    priceBeforeMinimum,
    minimumApplied: rates.minimumLot > priceBeforeMinimum,
    priceAfterMinimum,
    priceBeforeRounding,
    priceTotal,
    unitPrice: roundHalfAway(priceTotal / quantity, 4),
    oneOffTotal,
    priceWithOneOffs: roundMoney(priceTotal + oneOffTotal),
    marginShare: rates.marginShare,
    markupShare: rates.marginShare / (1 - rates.marginShare),
  };
}
