import type { listOrders } from '@huelot/contracts';
import type { z } from 'zod';
import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { indexedPatterns, keyset, likeAny } from '../../db/lists.ts';
import { decodeCursor } from '../../kernel/cursor.ts';
import { readOrdersByIds } from './queries.ts';

type Asked = z.output<typeof listOrders.query> & { limit: number };

/** Orders in the order asked for, one more than the page holds. */
export async function readOrders(execute: SqlExecutor, asked: Asked) {
  const matching = await whatMatches(execute, asked);
  const narrow = asked.status === 'open' || asked.customerId !== undefined || Boolean(asked.search);
  const ids =
    asked.sort === 'due' || asked.sort === '-due'
      ? await (narrow ? sortByDay : walkDays)(execute, asked, matching)
      : await listByAge(execute, asked, matching);
  return readOrdersByIds(execute, ids);
}

/** What is asked of an order `o`. */
async function whatMatches(execute: SqlExecutor, { status, customerId, search }: Asked): Promise<Prisma.Sql> {
  return sql`
    ${status === undefined ? Prisma.empty : sql`and o."status" = ${status}`}
    ${customerId === undefined ? Prisma.empty : sql`and o."customerId" = ${customerId}`}
    ${search ? sql`and ${await bears(execute, search)}` : Prisma.empty}`;
}

async function bears(execute: SqlExecutor, words: string): Promise<Prisma.Sql> {
  const patterns = indexedPatterns(words);
  const customers = await execute<{ id: number }>(
    sql`${plannedAnew} select c."id" from "customer" c where ${likeAny(sql`c."name"`, patterns)}`,
  );
  return sql`(${likeAny(sql`o."number"`, patterns)} or ${likeAny(sql`o."customerOrderNumber"`, patterns)}
    ${customers.length === 0 ? Prisma.empty : sql`or o."customerId" = any(${customers.map(({ id }) => id)}::int[])`})`;
}

const idsOf = async (execute: SqlExecutor, statement: Prisma.Sql) =>
  (await execute<{ id: number }>(sql`${plannedAnew} ${statement}`)).map(({ id }) => id);

function listByAge(execute: SqlExecutor, asked: Asked, matching: Prisma.Sql): Promise<number[]> {
  const { start, order } = keyset({
    ...{ sort: asked.sort ?? '-createdAt', after: asked.after, id: sql`o."id"` },
    columns: {
      createdAt: { column: sql`o."id"`, kind: 'number' as const },
      due: { column: sql`o."id"`, kind: 'number' as const },
    },
  });
  return idsOf(
    execute,
    sql`select o."id" from "customer_order" o where true ${matching} ${start} order by ${order} limit ${asked.limit + 1}`,
  );
}

/** The first day of an order whose lines are all cancelled: after all others. */
const NEVER = 'infinity';

/** Where few orders match: their first days are found, and sorted. */
function sortByDay(execute: SqlExecutor, asked: Asked, matching: Prisma.Sql): Promise<number[]> {
  const { start, order } = keyset({
    ...{ sort: asked.sort ?? 'due', after: asked.after, id: sql`o."id"` },
    columns: {
      createdAt: { column: sql`o."id"`, kind: 'number' as const },
      due: { column: sql`coalesce(due."day", ${NEVER}::date)`, kind: 'string' as const },
    },
  });
  return idsOf(
    execute,
    sql`select o."id" from "customer_order" o
      cross join lateral (select min("dueDate") as "day" from "order_line" where "orderId" = o."id" and "cancelledAt" is null) due
     where true ${matching} ${start} order by ${order} limit ${asked.limit + 1}`,
  );
}

/**
 * Where most orders match: a walk along the days of the lines, which meets each order at its first line. Orders without a
 * line in work come after all that have one, or before them when the latest is asked for first.
 */
async function walkDays(execute: SqlExecutor, asked: Asked, matching: Prisma.Sql): Promise<number[]> {
  const latestFirst = asked.sort === '-due';
  const direction = latestFirst ? sql`desc` : sql`asc`;
  const past = latestFirst ? sql`<` : sql`>`;
  const cursor = decodeCursor(asked.after, ['string', 'number']);
  const [day, id] = [String(cursor?.[0] ?? ''), Number(cursor?.[1] ?? 0)];
  const isNever = cursor !== null && day === NEVER;
  const dated = (limit: number) =>
    idsOf(
      execute,
      sql`select ol."orderId" as "id" from "order_line" ol join "customer_order" o on o."id" = ol."orderId"
       where ol."cancelledAt" is null
         and not exists (select from "order_line" e where e."orderId" = ol."orderId" and e."cancelledAt" is null
                            and (e."dueDate", e."id") < (ol."dueDate", ol."id"))
         ${matching}
         ${cursor === null || isNever ? Prisma.empty : sql`and (ol."dueDate", ol."orderId") ${past} (${day}::date, ${id}::int)`}
       order by ol."dueDate" ${direction}, ol."orderId" ${direction} limit ${limit}`,
    );
  // Each order has a line: one without a line in work has a cancelled one.
  const undated = (limit: number) =>
    idsOf(
      execute,
      sql`select o."id" from "customer_order" o
       where o."id" in (select "orderId" from "order_line" where "cancelledAt" is not null)
         and not exists (select from "order_line" e where e."orderId" = o."id" and e."cancelledAt" is null)
         ${matching} ${isNever ? sql`and o."id" ${past} ${id}::int` : Prisma.empty}
       order by o."id" ${direction} limit ${limit}`,
    );
  const most = asked.limit + 1;
  const [first, then] = latestFirst ? [undated, dated] : [dated, undated];
  // A cursor says in which of the two the page begins.
  const found = cursor === null || isNever === latestFirst ? await first(most) : [];
  return found.length === most ? found : [...found, ...(await then(most - found.length))];
}
