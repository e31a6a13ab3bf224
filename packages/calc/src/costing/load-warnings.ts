import type { Price } from './price-job.ts';

/** A quantity at a step of the staircase, and the quantity beside it that is worth knowing. */
export interface LoadWarning {
  code: 'next-piece-starts-a-load' | 'last-load-is-dear';
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
export function loadWarnings(price: Price, priceAt: (quantity: number) => Price): LoadWarning[] {
  const { quantity, plan } = price;
  const fullBefore = (plan.loads - 1) * plan.piecesPerLoad;
  const warnings: LoadWarning[] = [];
  if (quantity === plan.loads * plan.piecesPerLoad) {
    const more = priceAt(quantity + 1);
    const message =
      `One piece more starts load ${more.plan.loads} and takes the lot from ` +
      `${money(price.priceTotal)} to ${money(more.priceTotal)}.`;
    if (more.priceTotal > price.priceTotal)
      warnings.push({ code: 'next-piece-starts-a-load', message, ...beside(more) });
  }
  if (fullBefore > 0) {
    const fewer = priceAt(fullBefore);
    const message =
      `${fullBefore} pieces fill ${fewer.plan.loads} ${fewer.plan.loads === 1 ? 'load' : 'loads'} at ` +
      `${fewer.unitPrice.toFixed(4)} a piece; at ${quantity} a piece costs ${price.unitPrice.toFixed(4)}.`;
    if (fewer.unitPrice < price.unitPrice)
      warnings.push({ code: 'last-load-is-dear', message, ...beside(fewer) });
  }
  return warnings;
}

const beside = ({ quantity, plan: { loads }, priceTotal, unitPrice }: Price) => ({
  quantity,
  loads,
  priceTotal,
  unitPrice,
});

const money = (amount: number): string => amount.toFixed(2);
