import type { DeliveryFacts, issueDeliveryNote } from '@huelot/contracts';
import type { z } from 'zod';
import { fieldError } from '../../kernel/refusal.ts';
import type { ShipmentRow } from './queries.ts';

type Input = z.output<typeof issueDeliveryNote.body>;
const sum = (rows: readonly { quantity: number }[]) =>
  rows.reduce((total, { quantity }) => total + quantity, 0);
function groups<K, T>(rows: readonly T[], keyOf: (row: T) => K): [T, ...T[]][] {
  const byKey = new Map<K, [T, ...T[]]>();
  for (const row of rows) {
    const group = byKey.get(keyOf(row));
    if (group === undefined) byKey.set(keyOf(row), [row]);
    else group.push(row);
  }
  return [...byKey.values()];
}

/** What a delivery note of these shipments says: by order and line, in the order they come. */
export function deliveryFacts({
  shipments,
  customer,
  shop,
  input,
}: {
  shipments: readonly ShipmentRow[];
  customer: DeliveryFacts['customer'];
  shop: DeliveryFacts['shop'];
  input: Input;
}): DeliveryFacts {
  const byId = new Map(shipments.map((shipment) => [shipment.id, shipment]));
  const { name, address, contact, timeZone, units } = shop;
  return {
    shop: { name, address, contact, timeZone, units },
    customer: { number: customer.number, name: customer.name },
    ...{ address: input.address, carrier: input.carrier, document: input.document, notes: input.notes },
    orders: groups(shipments, ({ order }) => order.id).map((ofOrder) => {
      const { id, number, customerOrderNumber } = ofOrder[0].order;
      const lines = groups(ofOrder, ({ line }) => line.id).map(deliveredLine);
      return { id, number, customerOrderNumber, lines };
    }),
    packages: input.packages.flatMap(({ shipmentId, ...packed }) => {
      const shipment = byId.get(shipmentId);
      if (shipment === undefined) return [];
      const { number, lot, part } = shipment;
      return [{ shipment: number, lot: lot.number, part: `${part.number} rev ${part.revision}`, ...packed }];
    }),
  };
}

/** What was shipped of a line before the newest of these shipments, and is not among them, went before. */
function deliveredLine(shipments: readonly [ShipmentRow, ...ShipmentRow[]]) {
  const [{ line, part }] = shipments;
  const ids = new Set(shipments.map(({ id }) => id));
  const newest = Math.max(...ids);
  const shippedBefore = sum(line.shipments.filter(({ id }) => id < newest && !ids.has(id)));
  const delivered = sum(shipments);
  return {
    ...{ orderLineId: line.id, line: line.position, part, ordered: line.ordered, shippedBefore, delivered },
    rejected: line.rejected,
    stillToCome: Math.max(0, line.ordered - shippedBefore - delivered - line.rejected),
    shipments: shipments.map(({ id, number, lot, quantity, carrier, document, shippedAt, certificates }) => ({
      ...{ id, number, lot: { id: lot.id, number: lot.number }, quantity, carrier, document },
      ...{ shippedAt: shippedAt.toISOString(), certificates },
    })),
  };
}

/** Every piece is in a package, and no package weighs less than what is in it. */
export function checkPackages({ packages }: Input, shipments: readonly ShipmentRow[]): void {
  for (const [index, { shipmentId, netKg, grossKg }] of packages.entries()) {
    if (!shipments.some(({ id }) => id === shipmentId))
      throw fieldError(`packages.${index}.shipmentId`, 'must be a shipment of this delivery');
    if (netKg !== null && grossKg !== null && grossKg < netKg)
      throw fieldError(`packages.${index}.grossKg`, `must be at least ${netKg} kg, what is in the package`);
  }
  for (const { id, number, quantity } of shipments) {
    const packed = sum(packages.filter(({ shipmentId }) => shipmentId === id));
    if (packed !== quantity)
      throw fieldError(
        'packages',
        `hold ${packed} pieces of ${number}, and ${quantity} were shipped: every piece is in one package`,
      );
  }
}
