import type { DeliveryNote, DeliverySheet, issueDeliveryNote } from '@huelot/contracts';
import type { z } from 'zod';
import { readShop } from '../../catalog/settings/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepPaper, readPaper } from '../../core/issued-papers/index.ts';
import { inTransaction, type Db, type Queryable, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { deliveryNotePdf } from '../../documents/delivery-note-pdf.ts';
import { deliveryLabelsPdf, type LabelSize } from '../../documents/delivery-labels-pdf.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { checkPackages, deliveryFacts } from './facts.ts';
import * as queries from './queries.ts';
import { readReturnsOfNote } from './return-queries.ts';

/** What may go on a note beside one shipment: what its customer has waiting. */
export async function readSheet({ execute }: Db, shipmentId: number): Promise<DeliverySheet> {
  const customer = orNotFound(
    await queries.readCustomerOfShipment(execute, shipmentId),
    `shipment ${shipmentId}`,
  );
  const [addresses, shipments] = await Promise.all([
    queries.readAddresses(execute, customer.id),
    queries.readOpenShipments(execute, { customerId: customer.id, shipmentId }),
  ]);
  return {
    ...{ customer, addresses },
    shipments: shipments.map(({ lot, order, line, part, shippedAt, ...shipment }) => ({
      ...{ id: shipment.id, number: shipment.number, lot, quantity: shipment.quantity },
      ...{ carrier: shipment.carrier, document: shipment.document, certificateDue: shipment.certificateDue },
      order: {
        ...{ id: order.id, number: order.number, line: line.position },
        customerOrderNumber: order.customerOrderNumber,
      },
      ...{ part: `${part.number} rev ${part.revision}`, shippedAt: shippedAt.toISOString() },
    })),
  };
}

type Input = z.output<typeof issueDeliveryNote.body>;

/** Gathers shipments of one customer on a note and keeps its paper: from then on neither changes. */
export function issue(db: Db, { actor, input }: { actor: Actor; input: Input }): Promise<DeliveryNote> {
  return inTransaction(db, async (tx) => {
    const shipments = await queries.lockShipments(tx.execute, input.shipmentIds);
    await queries.lockLots(
      tx.execute,
      shipments.map(({ lot }) => lot.id),
    );
    const [first] = shipments;
    checkShipments(input, shipments);
    checkPackages(input, shipments);
    const customer = orNotFound(
      await queries.readCustomerOfShipment(tx.execute, first?.id ?? 0),
      'customer of the shipments',
    );
    const facts = deliveryFacts({ shipments, customer, shop: await readShop(tx), input });
    const number = await nextNumber(tx.execute, 'delivery-note');
    const { id, issuedAt } = await queries.addNote(tx, {
      ...{ number, facts, issuedById: actor.personId },
      shipmentIds: shipments.map((shipment) => shipment.id),
    });
    const row = orNotFound(await queries.readNote(tx.execute, id), `delivery note ${id}`);
    const shows = { number, facts, issuedAt: issuedAt.toISOString(), issuedBy: row.issuedBy };
    await keepPaper(tx, {
      ...{ kind: 'delivery-note', recordId: id, title: `Delivery note ${number}`, fileName: `${number}.pdf` },
      ...{ units: facts.shop.units, issuedById: actor.personId, issuedAt, shows },
      draw: () => deliveryNotePdf(shows),
    });
    await writeAudit(tx.execute, actor, { kind: 'delivery-note', id, number, action: 'issued' });
    for (const { lot, number: shipment, quantity } of shipments)
      await writeAudit(tx.execute, actor, {
        ...{ kind: 'lot', id: lot.id, number: lot.number },
        action: `put ${quantity} pieces of ${shipment} on delivery note ${number}`,
      });
    return view(tx, id);
  });
}

function checkShipments({ shipmentIds }: Input, shipments: readonly queries.ShipmentRow[]): void {
  const [first] = shipments;
  for (const [index, id] of shipmentIds.entries()) {
    const path = `shipmentIds.${index}`;
    const shipment = shipments.find((one) => one.id === id);
    if (shipment === undefined) throw fieldError(path, `there is no shipment ${id}`);
    if (shipmentIds.indexOf(id) !== index) throw fieldError(path, `names ${shipment.number} a second time`);
    if (shipment.order.customerId !== first?.order.customerId)
      throw fieldError(path, `${shipment.number} is for another customer than ${first?.number ?? ''}`);
    if (shipment.note !== null)
      throw new DomainError('conflict', `${shipment.number} stands on delivery note ${shipment.note}.`);
    if (shipment.lot.held)
      throw new DomainError('on-hold', `Lot ${shipment.lot.number} is on hold: no paper takes it along.`);
  }
}

/** Withdraws a note that stands; what was on it waits for another. The paper stays readable. */
export function withdraw(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<DeliveryNote> {
  return inTransaction(db, async (tx) => {
    await queries.lockNote(tx.execute, id);
    const row = orNotFound(await queries.readNote(tx.execute, id), `delivery note ${id}`);
    if (row.state === 'withdrawn') throw new DomainError('conflict', `${row.number} was withdrawn already.`);
    if (row.returned > 0)
      throw new DomainError('conflict', `Goods came back against ${row.number}: it went out as it is.`);
    await queries.withdrawNote(tx, id, { personId: actor.personId, reason });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'delivery-note', id, number: row.number, action: 'withdrew', reason },
    });
    return view(tx, id);
  });
}

/** A note as its page shows it. */
export async function view({ execute }: Pick<Tx, 'execute'>, id: number): Promise<DeliveryNote> {
  const row = orNotFound(await queries.readNote(execute, id), `delivery note ${id}`);
  const { withdrawnBy, withdrawnAt, withdrawReason, ...note } = row;
  return {
    ...note,
    issuedAt: row.issuedAt.toISOString(),
    withdrawn:
      withdrawnAt === null
        ? null
        : { by: withdrawnBy ?? '', at: withdrawnAt.toISOString(), reason: withdrawReason },
    returns: await readReturnsOfNote(execute, id),
  };
}

/** The paper as it was issued. */
export async function print(db: Queryable, id: number): Promise<{ name: string; file: Buffer }> {
  const { fileName, bytes } = orNotFound(
    await readPaper(db, { kind: 'delivery-note', recordId: id, issue: 1 }),
    `delivery note ${id}`,
  );
  return { name: fileName, file: Buffer.from(bytes) };
}

/** A label for each package of a note that stands. */
export async function printLabels(
  db: Db,
  { id, size, publicUrl }: { id: number; size: LabelSize; publicUrl: string },
): Promise<{ name: string; file: Buffer }> {
  const { number, facts, issuedAt, state } = await view(db, id);
  if (state === 'withdrawn')
    throw new DomainError('conflict', `${number} was withdrawn: its packages get labels of another note.`);
  const lots = new Map(
    facts.orders.flatMap(({ lines }) =>
      lines.flatMap(({ shipments }) =>
        shipments.map(({ lot }) => [lot.number, `${publicUrl}/lots/${lot.id}`]),
      ),
    ),
  );
  const file = await deliveryLabelsPdf({
    number,
    facts,
    issuedAt,
    size,
    addressOf: (lot) => lots.get(lot) ?? '',
  });
  return { name: `${number}-labels.pdf`, file };
}
