import type { CompleteJob } from './check-job.ts';
import { unitPriceDigits } from './money.ts';
import { piecesText } from './pieces-text.ts';
import { type PriceAmounts, priceAmounts } from './price-amounts.ts';

/** A quantity at a step of the staircase, and the quantity beside it that is worth knowing. */
export interface LoadWarning {
  code: 'next-piece-starts-a-load' | 'last-load-is-dear';
  /** `¤` before an amount stands for the currency of the price. */
  message: string;
  /** The other quantity, its loads and its price. */
  quantity: number;
  loads: number;
  priceTotal: number;
  unitPrice: number;
}

/**
 * A part load costs line time like a full one, so the price of a lot is a staircase. Says when the quantity stands at
 * the edge of a step, or so little past one that a piece costs more than it did before.
 */
export function loadWarnings(job: CompleteJob, price: PriceAmounts): LoadWarning[] {
  const { quantity, count } = price;
  const { minorDigits } = job.currency;
  const lot = (amount: number): string => `¤${amount.toFixed(minorDigits)}`;
  const each = (amount: number): string => `¤${amount.toFixed(unitPriceDigits(minorDigits))}`;
  const fullBefore = (count.loads - 1) * count.piecesPerLoad;
  const warnings: LoadWarning[] = [];
  if (quantity === count.loads * count.piecesPerLoad) {
    const more = priceAmounts({ ...job, quantity: quantity + 1 });
    const message =
      `One piece more starts load ${more.count.loads} and takes the lot from ` +
      `${lot(price.priceTotal)} to ${lot(more.priceTotal)}.`;
    if (more.priceTotal > price.priceTotal) {
      warnings.push({ code: 'next-piece-starts-a-load', message, ...beside(more) });
    }
  }
  if (fullBefore > 0) {
    const fewer = priceAmounts({ ...job, quantity: fullBefore });
    const message =
      `${piecesText(fullBefore)} ${fullBefore === 1 ? 'fills' : 'fill'} ${fewer.count.loads} ${fewer.count.loads === 1 ? 'load' : 'loads'} at ` +
      `${each(fewer.unitPrice)} a piece; at ${quantity} a piece costs ${each(price.unitPrice)}.`;
    if (fewer.unitPrice < price.unitPrice) {
      warnings.push({ code: 'last-load-is-dear', message, ...beside(fewer) });
    }
  }
  return warnings;
}

const beside = ({ quantity, count: { loads }, priceTotal, unitPrice }: PriceAmounts) => ({
  quantity,
  loads,
  priceTotal,
  unitPrice,
});
