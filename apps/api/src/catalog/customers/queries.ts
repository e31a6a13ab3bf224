import type { CustomerFacts, listCustomers } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing, keyset, whereArchived } from '../../db/lists.ts';

const whole = {
  contacts: { orderBy: { position: 'asc' } },
  addresses: { orderBy: { position: 'asc' } },
  mergedInto: { select: { id: true, number: true, name: true } },
  _count: { select: { parts: true, enquiries: true, quotations: true, orders: true } },
} as const;

export const readCustomer = (db: Queryable, id: number) =>
  db.prisma.customer.findUnique({ where: { id }, include: whole });
export type CustomerRow = NonNullable<Awaited<ReturnType<typeof readCustomer>>>;

/** Holds the rows of several customers until the transaction ends, always in the same order. */
export const lockCustomers = (execute: SqlExecutor, ids: readonly number[]) =>
  execute(sql`select "id" from "customer" where "id" = any(${[...ids]}) order by "id" for update`);

export interface ItemRow {
  id: number;
  number: string;
  name: string;
  currency: string;
  contactName: string;
  email: string;
  phone: string;
  partCount: number;
  openOrderCount: number;
  archived: boolean;
  createdAt: Date;
  sortValue: string | number;
}

const columns = {
  name: { column: sql`c."name"`, kind: 'string' },
  number: { column: sql`c."number"`, kind: 'string' },
  createdAt: { column: sql`c."id"`, kind: 'number' },
} as const;

/** Customers in the order asked for, one more than the page holds. */
export function readItems(
  execute: SqlExecutor,
  { sort, after, search, archived, limit }: z.output<typeof listCustomers.query> & { limit: number },
): Promise<ItemRow[]> {
  const at = keyset({ sort: sort ?? 'name', columns, id: sql`c."id"`, after });
  const pattern = search ? containing(search) : null;
  return execute<ItemRow>(sql`
    select c."id", c."number", c."name", c."currency", c."archivedAt" is not null as "archived", c."createdAt",
           coalesce(k."name", '') as "contactName", coalesce(k."email", '') as "email", coalesce(k."phone", '') as "phone",
           (select count(*) from "part" p where p."customerId" = c."id" and p."archivedAt" is null)::int as "partCount",
           (select count(*) from "customer_order" o where o."customerId" = c."id" and o."status" = 'open')::int as "openOrderCount",
           ${at.value} as "sortValue"
      from "customer" c
      left join lateral (
        select "name", "email", "phone" from "customer_contact" where "customerId" = c."id" order by "position" limit 1
      ) k on true
     where (${pattern}::text is null or c."name" ilike ${pattern} or c."number" ilike ${pattern} or exists (
             select 1 from "customer_contact" o where o."customerId" = c."id" and (o."name" || ' ' || o."email") ilike ${pattern}))
       ${whereArchived(sql`c."archivedAt"`, archived)}
       ${at.start}
     order by ${at.order}
     limit ${limit + 1}`);
}

const numbered = <T>(rows: readonly T[]) => rows.map((row, position) => ({ ...row, position }));

export const addCustomer = (
  db: Queryable,
  number: string,
  { contacts, addresses, ...facts }: CustomerFacts,
) =>
  db.prisma.customer.create({
    data: {
      number,
      ...facts,
      contacts: { create: numbered(contacts) },
      addresses: { create: numbered(addresses) },
    },
    include: whole,
  });

/** Replaces what is known, contacts and addresses included. */
export const changeCustomer = (db: Queryable, id: number, { contacts, addresses, ...facts }: CustomerFacts) =>
  db.prisma.customer.update({
    where: { id },
    data: {
      ...facts,
      version: { increment: 1 },
      contacts: { deleteMany: {}, create: numbered(contacts) },
      addresses: { deleteMany: {}, create: numbered(addresses) },
    },
    include: whole,
  });

export const setArchived = (db: Queryable, id: number, archivedAt: Date | null) =>
  db.prisma.customer.update({
    where: { id },
    data: { archivedAt, version: { increment: 1 } },
    include: whole,
  });

export const countOpenOrders = (db: Queryable, customerId: number) =>
  db.prisma.order.count({ where: { customerId, status: 'open' } });

/** Moves what belongs to one customer to another and says what moved. */
export async function moveRecords(execute: SqlExecutor, options: { from: number; into: number }) {
  const quotations = await execute<{ id: number; number: string }>(sql`
    update "quotation" set "customerId" = ${options.into} where "customerId" = ${options.from} returning "id", "number"`);
  const orders = await execute<{ id: number; number: string }>(sql`
    update "customer_order" set "customerId" = ${options.into}, "version" = "version" + 1
     where "customerId" = ${options.from} returning "id", "number"`);
  const standards = await execute<{ id: number; number: string }>(sql`
    update "colour_standard" set "customerId" = ${options.into} where "customerId" = ${options.from} returning "id", "code" as "number"`);
  const enquiries = await execute<{ id: number; number: string }>(sql`
    update "enquiry" set "customerId" = ${options.into}, "version" = "version" + 1
     where "customerId" = ${options.from} returning "id", "number"`);
  // What was issued stays with whom it was issued to; a draft goes on.
  const drafts = await execute<{ id: number; number: null }>(sql`
    update "invoice" set "customerId" = ${options.into}, "version" = "version" + 1
     where "customerId" = ${options.from} and "issuedAt" is null returning "id", "number"`);
  return { quotations, orders, standards, enquiries, drafts };
}

/**
 * Moves the parts of one customer to another. Where both have a part of that number and revision, the one that moves
 * is told apart by the number of the customer it came from.
 */
export const moveParts = (
  execute: SqlExecutor,
  options: { from: number; into: number; fromNumber: string },
) =>
  execute<{ id: number; old: string; number: string; revision: string }>(sql`
    update "part" p
       set "customerId" = ${options.into}, "version" = p."version" + 1,
           "number" = case when exists (
               select 1 from "part" q where q."customerId" = ${options.into} and q."number" = p."number" and q."revision" = p."revision")
             then p."number" || ' (' || ${options.fromNumber}::text || ')' else p."number" end
      from "part" was
     where p."customerId" = ${options.from} and was."id" = p."id"
    returning p."id", was."number" as "old", p."number", p."revision"`);

/** Points a merged customer, and all that were merged into it before, to the one that stays. */
export async function pointToSurvivor(db: Queryable, options: { from: number; into: number; at: Date }) {
  await db.prisma.customer.updateMany({
    where: { mergedIntoId: options.from },
    data: { mergedIntoId: options.into },
  });
  return db.prisma.customer.update({
    where: { id: options.from },
    data: { mergedIntoId: options.into, archivedAt: options.at, version: { increment: 1 } },
    include: whole,
  });
}
