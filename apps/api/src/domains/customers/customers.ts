import type { Customer, CustomerFacts } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { Refusal, checkVersion, found } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './queries.ts';

export const toCustomer = (row: queries.CustomerRow): Customer => ({
  id: row.id,
  number: row.number,
  name: row.name,
  currency: row.currency,
  taxNumber: row.taxNumber,
  taxRatePercent: row.taxRatePercent.toNumber(),
  terms: row.terms,
  notes: row.notes,
  contacts: row.contacts.map(({ name, role, email, phone }) => ({ name, role, email, phone })),
  addresses: row.addresses.map(({ kind, lines }) => ({
    kind: kind as Customer['addresses'][number]['kind'],
    lines,
  })),
  partCount: row._count.parts,
  quotationCount: row._count.quotations,
  orderCount: row._count.orders,
  archivedAt: row.archivedAt?.toISOString() ?? null,
  mergedInto: row.mergedInto,
  createdAt: row.createdAt.toISOString(),
  version: row.version,
});

/** One customer, or a refusal that there is none. */
export const getCustomer = async (db: Queryable, id: number): Promise<Customer> =>
  toCustomer(found(await queries.readCustomer(db, id), `customer ${id}`));

/** Adds a customer under the next number. */
export async function addCustomer(db: Db, of: { actor: Actor; facts: CustomerFacts }): Promise<Customer> {
  return inTransaction(db, async (tx) => {
    const number = await nextNumber(tx.run, 'customer');
    const customer = toCustomer(await queries.addCustomer(tx, number, of.facts));
    await record(tx.run, of.actor, { kind: 'customer', id: customer.id, number, action: 'added' });
    return customer;
  });
}

/** Replaces what is known about a customer; a merged one is history and stays as it is. */
export async function changeCustomer(
  db: Db,
  of: { actor: Actor; id: number; version: number; facts: CustomerFacts },
): Promise<Customer> {
  const { actor, id, version, facts } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockCustomers(tx.run, [id]);
    const before = toCustomer(found(await queries.readCustomer(tx, id), `customer ${id}`));
    checkVersion({ stored: before, version, what: 'This customer' });
    refuseMerged(before);
    const after = toCustomer(await queries.changeCustomer(tx, id, facts));
    const changes = changesBetween(before, after);
    await record(tx.run, actor, { kind: 'customer', id, number: after.number, action: 'changed', changes });
    return after;
  });
}

/** Takes a customer off the lists or puts it back. Nothing happens when it is there already. */
export async function setArchived(
  db: Db,
  of: { actor: Actor; id: number; archived: boolean },
): Promise<Customer> {
  const { actor, id, archived } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockCustomers(tx.run, [id]);
    const before = toCustomer(found(await queries.readCustomer(tx, id), `customer ${id}`));
    if ((before.archivedAt !== null) === archived) return before;
    refuseMerged(before);
    const open = archived ? await queries.countOpenOrders(tx, id) : 0;
    if (open > 0) {
      throw new Refusal(
        'in-use',
        `${before.name} has ${open === 1 ? 'an open order' : `${open} open orders`}: finish or cancel them first.`,
      );
    }
    const after = toCustomer(await queries.setArchived(tx, id, archived ? new Date() : null));
    const action = archived ? 'archived' : 'took out of the archive';
    await record(tx.run, actor, { kind: 'customer', id, number: after.number, action });
    return after;
  });
}

export function refuseMerged({ number, mergedInto }: Customer): void {
  if (mergedInto === null) return;
  throw new Refusal(
    'frozen',
    `Customer ${number} was merged into ${mergedInto.number} ${mergedInto.name}: work with that one.`,
  );
}
