import type { createInvoice, Invoice, InvoiceSheet } from '@huelot/contracts';
import type { z } from 'zod';
import { getCustomer } from '../../catalog/customers/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion, DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { lockDue, readDue, type DueRow } from './due-queries.ts';
import { originOf, priceLines, unitPriceText } from './price-lines.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';

type Input = z.output<typeof createInvoice.body>;

/** What waits of a customer, priced as an invoice of all of it would be. */
export async function readSheet(db: Db, customerId: number): Promise<InvoiceSheet> {
  const { id, number, name } = await getCustomer(db, customerId);
  const [billed, due] = await Promise.all([
    queries.readBilled(db.execute, customerId),
    readDue(db.execute, customerId),
  ]);
  const lines = priceLines(
    due.filter((row) => originOf(row) !== 'none'),
    [],
  );
  return {
    customer: { id, number, name },
    paymentDays: billed?.paymentDays ?? 0,
    shipments: due.map((row, index) =>
      shownOf({
        row,
        lines,
        isFirst: due.findIndex((one) => one.order.lineId === row.order.lineId) === index,
      }),
    ),
  };
}

function shownOf({
  row,
  lines,
  isFirst,
}: {
  row: DueRow;
  lines: readonly queries.NewLine[];
  isFirst: boolean;
}) {
  const line = lines.find(({ shipmentId }) => shipmentId === row.id);
  const charges = lines.filter(
    ({ kind, orderLineId }) => kind === 'one-off' && orderLineId === row.order.lineId,
  );
  const { id, number, deliveryNote, lot, order, currency, pieces, returned, quotation, minimumApplied } = row;
  return {
    ...{ id, number, deliveryNote, lot, order, currency, pieces, returned, quotation, minimumApplied },
    shippedAt: row.shippedAt.toISOString(),
    part: `${row.part.number} rev ${row.part.revision}`,
    origin: originOf(row),
    unitPrice:
      line === undefined
        ? '0'
        : unitPriceText({ total: line.basisTotal, quantity: line.basisQuantity }, currency),
    net: line?.net ?? '0',
    oneOffs: isFirst ? charges.map(({ label, net }) => ({ label, amount: net })) : [],
  };
}

/** Drafts an invoice: what it takes is taken from then on, and back again only when the draft is discarded. */
export function draft(db: Db, { actor, input }: { actor: Actor; input: Input }): Promise<Invoice> {
  return inTransaction(db, async (tx) => {
    const shipments = await takeShipments(tx, input.shipmentIds);
    const [{ customerId, currency }] = shipments;
    const { paymentDays, notes } = input;
    const { id } = await queries.addInvoice(tx, {
      ...{ kind: 'invoice', customerId, currency, paymentDays, notes, createdById: actor.personId },
    });
    await queries.addLines(tx, id, priceLines(shipments, input.prices));
    const action = `drafted for ${shipments.map(({ number }) => number).join(', ')}`;
    await writeAudit(tx.execute, actor, { kind: 'invoice', id, action });
    return view(tx, id);
  });
}

/** Replaces what a draft holds. */
export function redraft(
  db: Db,
  { actor, id, version, input }: { actor: Actor; id: number; version: number; input: Input },
): Promise<Invoice> {
  return inTransaction(db, async (tx) => {
    const row = await lockDraft(tx, id);
    assertVersion({ stored: await view(tx, id), version, what: 'This draft' });
    await queries.removeLines(tx, id);
    const shipments = await takeShipments(tx, input.shipmentIds);
    const [{ customerId, currency }] = shipments;
    if (customerId !== row.customerId)
      throw fieldError('shipmentIds.0', `is not a shipment of ${row.customer.name}, whom this draft is for`);
    const { paymentDays, notes } = input;
    await queries.changeInvoice(tx, id, { currency, paymentDays, notes });
    await queries.addLines(tx, id, priceLines(shipments, input.prices));
    await writeAudit(tx.execute, actor, { kind: 'invoice', id, action: 'changed the draft' });
    return view(tx, id);
  });
}

/** Discards a draft: what it took waits again. */
export function discard(db: Db, { actor, id }: { actor: Actor; id: number }): Promise<Record<string, never>> {
  return inTransaction(db, async (tx) => {
    await lockDraft(tx, id);
    await queries.removeLines(tx, id);
    await queries.removeInvoice(tx, id);
    await writeAudit(tx.execute, actor, { kind: 'invoice', id, action: 'discarded the draft' });
    return {};
  });
}

/** A draft, held; whatever is issued is refused. */
export async function lockDraft(tx: Tx, id: number): Promise<queries.InvoiceRow> {
  await queries.lockInvoice(tx.execute, id);
  const row = orNotFound(await queries.readInvoice(tx.execute, id), `invoice ${id}`);
  if (row.issuedAt !== null)
    throw new DomainError('immutable', `${row.number ?? ''} is issued: a credit note corrects it.`);
  return row;
}

/** The shipments of a draft, held: of one customer in one currency, and with pieces that no invoice takes. */
async function takeShipments(tx: Tx, ids: readonly number[]): Promise<[DueRow, ...DueRow[]]> {
  const shipments = await lockDue(tx.execute, ids);
  const chosen = ids.map((id, index) => {
    const path = `shipmentIds.${index}`;
    const row = shipments.find((one) => one.id === id);
    if (row === undefined) throw fieldError(path, `there is no shipment ${id}`);
    if (ids.indexOf(id) !== index) throw fieldError(path, `names ${row.number} a second time`);
    return { path, row };
  });
  const [first] = shipments;
  if (first === undefined) throw fieldError('shipmentIds', 'needs at least one shipment');
  for (const { path, row } of chosen) {
    if (row.customerId !== first.customerId)
      throw fieldError(path, `${row.number} is for another customer than ${first.number}`);
    if (row.currency !== first.currency)
      throw fieldError(
        path,
        `${row.number} is priced in ${row.currency}, ${first.number} in ${first.currency}`,
      );
    if (row.pieces <= 0)
      throw new DomainError(
        'conflict',
        `Nothing of ${row.number} waits to be invoiced: it is on an invoice, or came back.`,
      );
  }
  return [first, ...shipments.slice(1)];
}
