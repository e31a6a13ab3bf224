import type { CompleteJob } from './check-job.ts';
import type { CostLine } from './cost-lines.ts';
import { derived, type Figure, figures } from './figure.ts';
import type { PriceAmounts } from './price-amounts.ts';

/** What comes on top of the direct cost. */
export type PriceStepKey = 'overhead' | 'margin' | 'minimum' | 'expedite' | 'rounding';

const money = (label: string, value: number): Figure => derived(label, value, '¤');

/**
 * From the direct cost to the price of the lot; each amount is what the step adds. Rounding is in the currency of the
 * price, the steps before it in that of the rates; what lies between is the rate of exchange.
 */
export function priceSteps({ rates, currency }: CompleteJob, price: PriceAmounts): CostLine<PriceStepKey>[] {
  const { directCost, overhead, cost, priceBeforeMinimum, priceAfterMinimum, priceBeforeRounding } = price;
  return [
    {
      key: 'overhead',
      label: 'Overhead',
      formula: 'direct cost × overhead + hours of labour × overhead per hour of labour',
      inputs: [
        money('direct cost', directCost),
        ...figures({ rates }, 'rates.overheadShare'),
        derived('hours of labour', price.consumption.labourHours, 'h'),
        ...figures({ rates }, 'rates.overheadPerLabourHour'),
      ],
      amount: overhead,
    },
    {
      key: 'margin',
      label: 'Margin',
      formula: 'cost / (1 - margin) - cost',
      inputs: [money('cost', cost), ...figures({ rates }, 'rates.marginShare')],
      amount: priceBeforeMinimum - cost,
    },
    {
      key: 'minimum',
      label: 'Up to the minimum lot charge',
      formula: 'minimum lot charge - price, where the price is lower',
      inputs: [...figures({ rates }, 'rates.minimumLot'), money('price', priceBeforeMinimum)],
      amount: priceAfterMinimum - priceBeforeMinimum,
    },
    {
      key: 'expedite',
      label: 'Expedite',
      formula: 'price after the minimum × expedite',
      inputs: [
        money('price after the minimum', priceAfterMinimum),
        ...figures({ rates }, 'rates.expediteShare'),
      ],
      amount: price.priceBeforeExchange - priceAfterMinimum,
    },
    {
      key: 'rounding',
      label: 'Rounding',
      formula: `to ${(10 ** -currency.minorDigits).toFixed(currency.minorDigits)}, half away from zero`,
      inputs: [derived('before rounding', priceBeforeRounding, '¤¤')],
      amount: price.priceTotal - priceBeforeRounding,
    },
  ];
}
