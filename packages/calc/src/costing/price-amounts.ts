import type { CompleteJob } from './check-job.ts';
import { type Consumption, consumptionOf, total } from './consumption.ts';
import { costAmounts, type CostLineKey } from './cost-amounts.ts';
import { roundHalfAway, roundMoney } from './money.ts';
import { countLoads, type LoadCount } from './pieces-per-load.ts';

/** Every number of a price, without the words that explain it. */
export interface PriceAmounts {
  quantity: number;
  count: LoadCount;
  consumption: Consumption;
  amounts: Record<CostLineKey, number>;
  directCost: number;
  overhead: number;
  cost: number;
  priceBeforeMinimum: number;
  priceAfterMinimum: number;
  /** Expedite included, not yet rounded. */
  priceBeforeRounding: number;
  priceTotal: number;
  unitPrice: number;
}

/** Cost, margin, the larger of that and the minimum, expedite, rounding: in this order. */
export function priceAmounts(job: CompleteJob): PriceAmounts {
  const { quantity, rates } = job;
  const count = countLoads(job);
  const consumption = consumptionOf(job, count.loads);
  const amounts = costAmounts(job, consumption);
  const directCost = total(Object.values(amounts));
  const overhead = directCost * rates.overheadShare + consumption.labourHours * rates.overheadPerLabourHour;
  const cost = directCost + overhead;
  const priceBeforeMinimum = cost / (1 - rates.marginShare);
  const priceAfterMinimum = Math.max(priceBeforeMinimum, rates.minimumLot);
  const priceBeforeRounding = priceAfterMinimum * (1 + rates.expediteShare);
  const priceTotal = roundMoney(priceBeforeRounding);
  return {
    quantity,
    count,
    consumption,
    amounts,
    directCost,
    overhead,
    cost,
    priceBeforeMinimum,
    priceAfterMinimum,
    priceBeforeRounding,
    priceTotal,
    unitPrice: roundHalfAway(priceTotal / quantity, 4),
  };
}
