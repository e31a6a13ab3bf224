import { unitPrice, unitPriceDigits } from '@huelot/calc';
import {
  compareAmounts,
  lessAmount,
  minorDigitsOf,
  shareOfAmount,
  sumOfAmounts,
  type createInvoice,
  type PriceOrigin,
} from '@huelot/contracts';
import type { z } from 'zod';
import { fieldError } from '../../kernel/refusal.ts';
import type { Basis, DueRow } from './due-queries.ts';
import type { NewLine } from './queries.ts';

export type TypedPrices = z.output<typeof createInvoice.body>['prices'];

/** Where the price of an order line comes from. */
export const originOf = ({ quoted, total }: DueRow): PriceOrigin =>
  quoted ? 'quotation' : compareAmounts(total, '0') > 0 ? 'order' : 'none';

/** The charges of a line, unless what was agreed since is less than they come to. */
function splitOf({ total, ordered, oneOffs, currency }: DueRow): {
  basis: Basis;
  charges: DueRow['oneOffs'];
} {
  const pieces = lessAmount(
    total,
    sumOfAmounts(
      oneOffs.map(({ amount }) => amount),
      currency,
    ),
    currency,
  );
  return compareAmounts(pieces, '0') < 0
    ? { basis: { total, quantity: ordered }, charges: [] }
    : { basis: { total: pieces, quantity: ordered }, charges: oneOffs };
}

/** The price of a piece as people read it; the totals are what is owed. */
export const unitPriceText = ({ total, quantity }: Basis, currency: string): string => {
  const minorDigits = minorDigitsOf(currency);
  return unitPrice({ total: Number(total), quantity, minorDigits }).toFixed(unitPriceDigits(minorDigits));
};

/**
 * The lines that invoice these shipments, each for its pieces that no invoice takes yet. The price of a line is shared out by a
 * running total, so that its part shipments come to what was agreed to the last cent; charges stand once, on the first
 * invoice of their line.
 */
export function priceLines(shipments: readonly DueRow[], prices: TypedPrices): NewLine[] {
  refuseUnneeded(prices, shipments);
  const lineIds = [...new Set(shipments.map(({ order }) => order.lineId))];
  return lineIds.flatMap((lineId) =>
    linesOf(
      shipments.filter(({ order }) => order.lineId === lineId),
      prices,
    ),
  );
}

function linesOf(shipments: readonly DueRow[], prices: TypedPrices): NewLine[] {
  const [first] = shipments;
  if (first === undefined) return [];
  const { order, currency } = first;
  const typed = prices.find(({ orderLineId }) => orderLineId === order.lineId);
  if (typed === undefined && originOf(first) === 'none')
    throw fieldError(
      'prices',
      `${order.number} line ${order.line} came without a price: type the price of a piece with a reason`,
    );
  const { basis, charges } =
    typed === undefined
      ? splitOf(first)
      : { basis: { total: typed.unitPrice, quantity: 1 }, charges: [] as DueRow['oneOffs'] };
  const before = first.invoiced.find(
    ({ total, quantity }) => quantity === basis.quantity && compareAmounts(total, basis.total) === 0,
  );
  let pieces = before?.pieces ?? 0;
  let invoiced = before?.net ?? '0';
  const shipped = shipments.map((shipment): NewLine => {
    pieces += shipment.pieces;
    const running = shareOfAmount(basis, pieces, currency);
    const net = compareAmounts(running, invoiced) < 0 ? '0' : lessAmount(running, invoiced, currency);
    invoiced = sumOfAmounts([invoiced, net], currency);
    return {
      ...{ kind: 'pieces', orderLineId: order.lineId, shipmentId: shipment.id, oneOffIndex: null, label: '' },
      ...{ quantity: shipment.pieces, basisTotal: basis.total, basisQuantity: basis.quantity },
      ...{ priceReason: typed?.reason ?? '', net },
    };
  });
  const once = charges.flatMap(({ label, amount }, oneOffIndex): NewLine[] =>
    first.oneOffsTaken.includes(oneOffIndex)
      ? []
      : [
          {
            ...{ kind: 'one-off', orderLineId: order.lineId, shipmentId: null, oneOffIndex, label },
            ...{ quantity: 1, basisTotal: amount, basisQuantity: 1, priceReason: '' },
            net: sumOfAmounts([amount], currency),
          },
        ],
  );
  return [...shipped, ...once];
}

/** A price is typed once, and only where none was quoted. */
function refuseUnneeded(prices: TypedPrices, shipments: readonly DueRow[]): void {
  for (const [index, { orderLineId }] of prices.entries()) {
    const path = `prices.${index}.orderLineId`;
    const row = shipments.find(({ order }) => order.lineId === orderLineId);
    if (row === undefined) throw fieldError(path, 'is not a line of these shipments');
    if (prices.findIndex((one) => one.orderLineId === orderLineId) !== index)
      throw fieldError(path, 'has a price already');
    if (row.quoted)
      throw fieldError(
        path,
        `is priced by ${row.quotation}: change the order line where another price was agreed`,
      );
  }
}
