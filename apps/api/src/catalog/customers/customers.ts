import type { Customer, CustomerFacts } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Queryable, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { DomainError, assertVersion, orNotFound } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';

export const toCustomer = (row: queries.CustomerRow): Customer => ({
  id: row.id,
  number: row.number,
  name: row.name,
  currency: row.currency,
  units: row.units as Customer['units'],
  taxNumber: row.taxNumber,
  taxRatePercent: row.taxRatePercent.toNumber(),
  noTaxReason: row.noTaxReason as Customer['noTaxReason'],
  country: row.country,
  paymentDays: row.paymentDays,
  terms: row.terms,
  notes: row.notes,
  contacts: row.contacts.map(({ name, role, email, phone }) => ({ name, role, email, phone })),
  addresses: row.addresses.map(({ kind, lines }) => ({
    kind: kind as Customer['addresses'][number]['kind'],
    lines,
  })),
  partCount: row._count.parts,
  enquiryCount: row._count.enquiries,
  quotationCount: row._count.quotations,
  orderCount: row._count.orders,
  archivedAt: row.archivedAt?.toISOString() ?? null,
  mergedInto: row.mergedInto,
  createdAt: row.createdAt.toISOString(),
  version: row.version,
});

/** One customer, or a refusal that there is none. */
export const getCustomer = async (db: Queryable, id: number): Promise<Customer> =>
  toCustomer(orNotFound(await queries.readCustomer(db, id), `customer ${id}`));

/** Adds a customer under the next number. */
export async function addCustomer(
  db: Db | Tx,
  { facts, actor }: { actor: Actor; facts: CustomerFacts },
): Promise<Customer> {
  return inTransaction(db, async (tx) => {
    const number = await nextNumber(tx.execute, 'customer');
    const customer = toCustomer(await queries.addCustomer(tx, number, facts));
    await writeAudit(tx.execute, actor, { kind: 'customer', id: customer.id, number, action: 'added' });
    return customer;
  });
}

/** Replaces what is known about a customer; a merged one is history and stays as it is. */
export async function changeCustomer(
  db: Db,
  { actor, id, version, facts }: { actor: Actor; id: number; version: number; facts: CustomerFacts },
): Promise<Customer> {
  return inTransaction(db, async (tx) => {
    await queries.lockCustomers(tx.execute, [id]);
    const before = toCustomer(orNotFound(await queries.readCustomer(tx, id), `customer ${id}`));
    assertVersion({ stored: before, version, what: 'This customer' });
    refuseMerged(before);
    const after = toCustomer(await queries.changeCustomer(tx, id, facts));
    const changes = changesBetween(before, after);
    await writeAudit(tx.execute, actor, {
      kind: 'customer',
      id,
      number: after.number,
      action: 'changed',
      changes,
    });
    return after;
  });
}

/** Takes a customer off the lists or puts it back. Nothing happens when it is there already. */
export async function setArchived(
  db: Db,
  { actor, id, archived }: { actor: Actor; id: number; archived: boolean },
): Promise<Customer> {
  return inTransaction(db, async (tx) => {
    await queries.lockCustomers(tx.execute, [id]);
    const before = toCustomer(orNotFound(await queries.readCustomer(tx, id), `customer ${id}`));
    if ((before.archivedAt !== null) === archived) return before;
    refuseMerged(before);
    const open = archived ? await queries.countOpenOrders(tx, id) : 0;
    if (open > 0) {
      throw new DomainError(
        'in-use',
        `${before.name} has ${open === 1 ? 'an open order' : `${open} open orders`}: finish or cancel them first.`,
      );
    }
    const after = toCustomer(await queries.setArchived(tx, id, archived ? new Date() : null));
    const action = archived ? 'archived' : 'restored from the archive';
    await writeAudit(tx.execute, actor, { kind: 'customer', id, number: after.number, action });
    return after;
  });
}

export function refuseMerged({ number, mergedInto }: Customer): void {
  if (mergedInto === null) return;
  throw new DomainError(
    'immutable',
    `Customer ${number} was merged into ${mergedInto.number} ${mergedInto.name}: work with that one.`,
  );
}
