import type { Invoice, InvoiceSheet } from '@huelot/contracts';

/** A shipment that an invoice may take. */
export interface Choice {
  id: number;
  number: string;
  label: string;
  hint: string;
  lineId: number;
  line: string;
  currency: string;
  needsPrice: boolean;
  mayTypePrice: boolean;
}
/** A price as it is typed; empty takes the one of the order. */
export interface TypedPrice {
  orderLineId: number;
  unitPrice: string;
  reason: string;
}

/** What waits, with what it comes to in words. */
export const choicesOf = (
  { shipments }: InvoiceSheet,
  words: { money: (amount: string, currency: string) => string; date: (at: string) => string },
): Choice[] =>
  shipments.map((one) => ({
    ...{ id: one.id, number: one.number, lineId: one.order.lineId, currency: one.currency },
    label: `${one.number}: ${one.pieces} of ${one.part}, lot ${one.lot.number}, order ${one.order.number} line ${one.order.line}`,
    hint: [
      `Shipped ${words.date(one.shippedAt)}`,
      one.deliveryNote,
      one.origin === 'none'
        ? 'no price agreed'
        : `${words.money(one.net, one.currency)} by ${one.quotation || 'the order'}`,
      one.minimumApplied && 'minimum charge',
      ...one.oneOffs.map(({ label, amount }) => `once ${words.money(amount, one.currency)} for ${label}`),
      one.returned > 0 && `${one.returned} came back and are left out`,
    ]
      .filter(Boolean)
      .join(', '),
    line: `${one.order.number} line ${one.order.line}`,
    needsPrice: one.origin === 'none',
    mayTypePrice: one.origin !== 'quotation',
  }));

/** What a draft took already, so that it can be left in or out. */
export const ownChoicesOf = ({ facts, currency }: Invoice): Choice[] =>
  facts.lines.flatMap(({ shipment, order, quantity, part, priceReason }) =>
    shipment === null
      ? []
      : [
          {
            ...{ id: shipment.id, number: shipment.number, lineId: order.lineId, currency },
            label: `${shipment.number}: ${quantity} of ${part.number} rev ${part.revision}, lot ${shipment.lot.number}, order ${order.number} line ${order.line}`,
            hint: ['On this draft', shipment.deliveryNote].filter(Boolean).join(', '),
            line: `${order.number} line ${order.line}`,
            needsPrice: false,
            mayTypePrice: priceReason !== '',
          },
        ],
  );

/** The typed prices of a draft. */
export const typedPricesOf = ({ facts }: Invoice): TypedPrice[] => {
  const typed = facts.lines.filter(({ priceReason }) => priceReason !== '');
  return typed
    .filter((line, index) => typed.findIndex(({ order }) => order.lineId === line.order.lineId) === index)
    .map(({ order, basisTotal, priceReason }) => ({
      ...{ orderLineId: order.lineId, unitPrice: basisTotal, reason: priceReason },
    }));
};
