import { issueDeliveryNote, readDeliverySheet, recordReturn } from '../billing/deliveries/index.ts';
import { sql, type Db } from '../db/client.ts';
import type { Actors } from './people.ts';

/** The newest shipments still wait for theirs. */
const WAITING = 3;
/** Pieces in a carton. */
const CARTON = 120;

/** Delivery notes for what was shipped, the shipments of an order on one; of one of them some pieces came back. */
export async function seedDeliveries(db: Db, actors: Actors): Promise<void> {
  const shipments = await db.execute<{ id: number; orderId: number; quantity: number }>(sql`
    select h."id", ol."orderId", h."quantity" from "shipment" h join "lot" l on l."id" = h."lotId"
      join "order_line" ol on ol."id" = l."orderLineId" where not l."held" order by h."shippedAt", h."id"`);
  const told = shipments.slice(0, -WAITING);
  for (const [index, orderId] of [...new Set(told.map((one) => one.orderId))].entries()) {
    const mine = told.filter((one) => one.orderId === orderId);
    const [first] = mine;
    const { addresses } = await readDeliverySheet(db, first?.id ?? 0);
    const note = await issueDeliveryNote(db, {
      actor: actors.petra,
      input: {
        ...{ shipmentIds: mine.map(({ id }) => id), address: addresses[0] ?? 'Collected at the works' },
        ...{ carrier: 'own van', document: `W-${100 + index}`, notes: '' },
        packages: mine.flatMap(({ id, quantity }) => cartons(id, quantity)),
      },
    });
    if (index === RETURNED && first !== undefined)
      await recordReturn(db, {
        ...{ actor: actors.quentin, noteId: note.id },
        input: {
          ...{ shipmentId: first.id, quantity: Math.min(4, first.quantity), notes: '' },
          ...{ returnedOn: new Date().toISOString().slice(0, 10) },
          reason: 'marks of a rack where the customer sees them',
        },
      });
  }
}
const RETURNED = 2;

const cartons = (shipmentId: number, quantity: number) =>
  Array.from({ length: Math.ceil(quantity / CARTON) }, (_, index) => ({
    ...{ shipmentId, kind: 'carton', netKg: null, grossKg: null },
    quantity: Math.min(CARTON, quantity - index * CARTON),
  }));
