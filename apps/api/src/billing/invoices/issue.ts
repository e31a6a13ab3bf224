import {
  compareAmounts,
  lessAmount,
  percentOfAmount,
  shareOfAmount,
  sumOfAmounts,
  type Invoice,
  type InvoiceFacts,
  type issueCreditNote,
} from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion, DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { readCreditable, readLeft, readTaxes } from './credit-queries.ts';
import { lockDraft } from './drafts.ts';
import { factsOf } from './facts.ts';
import { keepInvoicePapers } from './papers.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';

/** Issues a draft, now unless an invented past says otherwise. The number is taken in the transaction that freezes it: whatever fails gives it back. */
export function issue(
  db: Db,
  { actor, id, version, at = new Date() }: { actor: Actor; id: number; version: number; at?: Date },
): Promise<Invoice> {
  return inTransaction(db, async (tx) => {
    const row = await lockDraft(tx, id);
    assertVersion({ stored: await view(tx, id), version, what: 'This draft' });
    const [back] = await queries.readOverdrawn(tx.execute, id);
    if (back !== undefined)
      throw new DomainError(
        'conflict',
        `${back.pieces} pieces of ${back.number} came back since this was drafted: save the draft again without them.`,
      );
    return give(tx, { actor, row, at, facts: await factsOf(tx, row, at) });
  });
}

/** Takes the number, freezes what is said under it, and keeps the papers. */
async function give(
  tx: Tx,
  {
    actor,
    row,
    at: issuedAt,
    facts,
  }: { actor: Actor; row: queries.InvoiceRow; at: Date; facts: InvoiceFacts },
): Promise<Invoice> {
  const { id, kind } = row;
  const number = await nextNumber(tx.execute, kind);
  await queries.issueRow(tx, id, { facts, number, issuedById: actor.personId, issuedAt });
  const { issuedBy } = orNotFound(await queries.readInvoice(tx.execute, id), `invoice ${id}`);
  await keepInvoicePapers(tx, {
    ...{ id, kind, number, facts, issuedAt, issuedBy: issuedBy ?? '', issuedById: actor.personId },
  });
  const action = row.credits === null ? 'issued' : `issued, giving back of ${row.credits.number}`;
  await writeAudit(tx.execute, actor, { kind: 'invoice', id, number, action, reason: row.reason || null });
  return view(tx, id);
}

type Credit = z.output<typeof issueCreditNote.body>;

/** Gives an issued invoice back, in whole or by line, and never more than it asked for. */
export function credit(
  db: Db,
  { actor, id, input, at = new Date() }: { actor: Actor; id: number; input: Credit; at?: Date },
): Promise<Invoice> {
  return inTransaction(db, async (tx) => {
    await queries.lockInvoice(tx.execute, id);
    const invoice = orNotFound(await queries.readInvoice(tx.execute, id), `invoice ${id}`);
    if (invoice.kind === 'credit-note')
      throw new DomainError('conflict', 'A credit note is not credited: invoice what it gave back anew.');
    if (invoice.facts === null || invoice.number === null)
      throw new DomainError('conflict', 'A draft is discarded, not credited.');
    const { currency, customerId, paymentDays } = invoice;
    const lines = await creditedLines(tx, { id, input, currency });
    const note = await queries.addInvoice(tx, {
      ...{ kind: 'credit-note', creditsId: id, customerId, currency, paymentDays, notes: '' },
      ...{ frees: input.frees, reason: input.reason, createdById: actor.personId },
    });
    await queries.addLines(tx, note.id, lines);
    const row = orNotFound(await queries.readInvoice(tx.execute, note.id), `credit note ${note.id}`);
    const facts = await withTaxOf(tx, { id, invoice: invoice.facts, facts: await factsOf(tx, row, at) });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'invoice', id, number: invoice.number, reason: input.reason },
      action: `gave back ${facts.gross} ${currency}`,
    });
    return give(tx, { actor, row, at, facts });
  });
}

async function creditedLines(
  tx: Tx,
  { id, input, currency }: { id: number; input: Credit; currency: string },
) {
  const [lines, left] = await Promise.all([readCreditable(tx.execute, id), readLeft(tx.execute, id)]);
  const leftOf = (lineId: number) => left.find((one) => one.lineId === lineId) ?? { quantity: 0, net: '0' };
  const asked =
    input.lines ??
    left.filter(({ quantity }) => quantity > 0).map(({ lineId, quantity }) => ({ lineId, quantity }));
  if (asked.length === 0) throw new DomainError('conflict', 'All of this invoice was given back already.');
  return asked.map(({ lineId, quantity }, index) => {
    const path = `lines.${index}`;
    const line = lines.find((one) => one.id === lineId);
    if (line === undefined) throw fieldError(`${path}.lineId`, 'is not a line of this invoice');
    if (asked.findIndex((one) => one.lineId === lineId) !== index)
      throw fieldError(`${path}.lineId`, 'is named a second time');
    const rest = leftOf(lineId);
    if (quantity > rest.quantity)
      throw fieldError(`${path}.quantity`, `must be at most ${rest.quantity}, what is left of the line`);
    const share = shareOfAmount({ total: line.net, quantity: line.quantity }, quantity, currency);
    const { id: creditsLineId, ...kept } = line;
    const whole = quantity === rest.quantity || compareAmounts(share, rest.net) > 0;
    return { ...kept, creditsLineId, quantity, net: whole ? sumOfAmounts([rest.net], currency) : share };
  });
}

/** The tax of a credit note is at the rate of its invoice; the last one gives back what is left of it, to the cent. */
async function withTaxOf(
  tx: Tx,
  { id, invoice, facts }: { id: number; invoice: InvoiceFacts; facts: InvoiceFacts },
): Promise<InvoiceFacts> {
  const { currency, net } = facts;
  const { taxRatePercent, noTaxReason } = invoice;
  const [{ tax, credited }, left] = await Promise.all([readTaxes(tx.execute, id), readLeft(tx.execute, id)]);
  const rest = lessAmount(tax, credited, currency);
  const share = percentOfAmount(facts.net, taxRatePercent, currency);
  const isLast = left.every(({ quantity }) => quantity === 0);
  const given = isLast || compareAmounts(share, rest) > 0 ? rest : share;
  return { ...facts, taxRatePercent, noTaxReason, tax: given, gross: sumOfAmounts([net, given], currency) };
}
