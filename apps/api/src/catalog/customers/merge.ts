import type { Customer } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { refuseMerged, toCustomer } from './customers.ts';
import * as queries from './queries.ts';

interface Merge {
  actor: Actor;
  /** The duplicate. */
  id: number;
  version: number;
  /** The customer that stays. */
  intoId: number;
  reason: string;
}

/**
 * Makes one customer of two: parts, colour standards, enquiries, quotations, orders, contacts and addresses of the duplicate move to the one that
 * stays, and the duplicate becomes an archived pointer to it.
 */
export async function mergeCustomer(db: Db, options: Merge): Promise<Customer> {
  const { actor, id, intoId, reason } = options;
  if (id === intoId) throw fieldError('intoId', 'is this same customer: choose the one that stays');
  return inTransaction(db, async (tx) => {
    await queries.lockCustomers(tx.execute, [id, intoId]);
    const from = toCustomer(orNotFound(await queries.readCustomer(tx, id), `customer ${id}`));
    assertVersion({ stored: from, version: options.version, what: 'This customer' });
    refuseMerged(from);
    const into = toCustomer(orNotFound(await queries.readCustomer(tx, intoId), `customer ${intoId}`));
    if (into.archivedAt !== null) throw fieldError('intoId', `${into.number} ${into.name} is archived`);

    const moved = await moveAll(tx, { ...options, from, into });
    const kept = await joinFacts(tx, from, into);
    await queries.pointToSurvivor(tx, { from: id, into: intoId, at: new Date() });
    await writeAudit(tx.execute, actor, {
      kind: 'customer',
      id,
      number: from.number,
      action: `merged into ${into.number}`,
      changes: [{ field: 'mergedInto', old: null, new: `${into.number} ${into.name}` }],
      reason,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'customer',
      id: intoId,
      number: into.number,
      action: `took over ${from.number} ${from.name}`,
      changes: [...moved, ...changesBetween(into, { contacts: kept.contacts, addresses: kept.addresses })],
      reason,
    });
    return kept;
  });
}

/** Moves the records of the duplicate, each with its own line of history. */
async function moveAll(tx: Tx, { actor, from, into, reason }: Merge & { from: Customer; into: Customer }) {
  const parts = await queries.moveParts(tx.execute, {
    from: from.id,
    into: into.id,
    fromNumber: from.number,
  });
  const { quotations, orders, standards, enquiries, drafts } = await queries.moveRecords(tx.execute, {
    from: from.id,
    into: into.id,
  });
  const customer = { field: 'customer', old: from.number, new: into.number };
  for (const { id, old, number } of parts) {
    const changes = number === old ? [customer] : [customer, { field: 'number', old, new: number }];
    await writeAudit(tx.execute, actor, { kind: 'part', id, number, action: 'moved', changes, reason });
  }
  for (const [kind, rows] of [
    ['enquiry', enquiries],
    ['quotation', quotations],
    ['order', orders],
    ['colour-standard', standards],
    ['invoice', drafts],
  ] as const) {
    for (const { id, number } of rows) {
      await writeAudit(tx.execute, actor, { kind, id, number, action: 'moved', changes: [customer], reason });
    }
  }
  return Object.entries({ parts, enquiries, quotations, orders, colourStandards: standards })
    .filter(([, rows]) => rows.length > 0)
    .map(([field, rows]) => ({ field, old: null, new: rows.map(({ number }) => number).join(', ') }));
}

/** Adds the contacts and addresses of the duplicate that the survivor does not have. */
async function joinFacts(tx: Tx, from: Customer, into: Customer): Promise<Customer> {
  const has = <T>(list: readonly T[], item: T) =>
    list.some((one) => JSON.stringify(one) === JSON.stringify(item));
  return toCustomer(
    await queries.changeCustomer(tx, into.id, {
      name: into.name,
      currency: into.currency,
      units: into.units,
      taxNumber: into.taxNumber || from.taxNumber,
      taxRatePercent: into.taxRatePercent,
      noTaxReason: into.noTaxReason || from.noTaxReason,
      country: into.country || from.country,
      paymentDays: into.paymentDays ?? from.paymentDays,
      terms: into.terms || from.terms,
      notes: into.notes || from.notes,
      contacts: [...into.contacts, ...from.contacts.filter((contact) => !has(into.contacts, contact))],
      addresses: [...into.addresses, ...from.addresses.filter((address) => !has(into.addresses, address))],
    }),
  );
}
