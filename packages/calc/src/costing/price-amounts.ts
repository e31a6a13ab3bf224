import type { CompleteJob } from './check-job.ts';
import { type Consumption, consumptionOf, total } from './consumption.ts';
import { costAmounts, type CostLineKey } from './cost-amounts.ts';
import { roundHalfAway, unitPrice } from './money.ts';
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
  /** Expedite included, in the currency of the rates. */
  priceBeforeExchange: number;
  /** In the currency of the price, not yet rounded. */
  priceBeforeRounding: number;
  priceTotal: number;
  unitPrice: number;
}

/** Cost, margin, the larger of that and the minimum, expedite, exchange, rounding: in this order. */
export function priceAmounts(job: CompleteJob): PriceAmounts {
  const { quantity, rates, currency } = job;
  const count = countLoads(job);
  const consumption = consumptionOf(job, count.loads);
  const amounts = costAmounts(job, consumption);
  const directCost = total(Object.values(amounts));
  const overhead = directCost * rates.overheadShare + consumption.labourHours * rates.overheadPerLabourHour;
  const cost = directCost + overhead;
  const priceBeforeMinimum = cost / (1 - rates.marginShare);
  const priceAfterMinimum = Math.max(priceBeforeMinimum, rates.minimumLot);
  const priceBeforeExchange = priceAfterMinimum * (1 + rates.expediteShare);
  const priceBeforeRounding = priceBeforeExchange * currency.exchangeRate;
  const priceTotal = roundHalfAway(priceBeforeRounding, currency.minorDigits);
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
    priceBeforeExchange,
    priceBeforeRounding,
    priceTotal,
    unitPrice: unitPrice({ total: priceTotal, quantity, minorDigits: currency.minorDigits }),
  };
}
