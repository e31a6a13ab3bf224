import type { listLots } from '@huelot/contracts';
import type { z } from 'zod';
import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { indexedPatterns, keyset, likeAny } from '../../db/lists.ts';
import { readLotsByIds } from './queries.ts';

type Asked = z.output<typeof listLots.query> & { limit: number };

const sorts = {
  createdAt: { column: sql`l."id"`, kind: 'number' },
  due: { column: sql`l."dueDate"`, kind: 'string' },
} as const;
const orderOf = ({ sort, after }: Asked) =>
  keyset({ sort: sort ?? '-createdAt', columns: sorts, id: sql`l."id"`, after });

/** Up to so many lots that bear the words are looked at one by one; of more, the page is found by walking along the list. */
const FEW = 1_000;
const WINDOW = 4_000;

/** Lots in the order asked for, one more than the page holds. */
export async function readLots(execute: SqlExecutor, asked: Asked) {
  const ids = asked.search ? await search(execute, asked, asked.search) : await list(execute, asked);
  return readLotsByIds(execute, ids);
}

/** What is asked of a lot `l` by its own columns. */
const matching = (asked: Asked): Prisma.Sql => sql`
  ${asked.status === undefined ? Prisma.empty : sql`and l."status" = ${asked.status}`}
  ${asked.held === undefined ? Prisma.empty : asked.held === 'yes' ? sql`and l."held"` : sql`and not l."held"`}
  ${asked.orderId === undefined ? Prisma.empty : sql`and l."orderLineId" in (select "id" from "order_line" where "orderId" = ${asked.orderId})`}
  ${asked.partId === undefined ? Prisma.empty : sql`and l."partId" = ${asked.partId}`}
  ${orderOf(asked).start}`;

const list = async (execute: SqlExecutor, asked: Asked, among: Prisma.Sql = Prisma.empty) =>
  (
    await execute<{ id: number }>(sql`${plannedAnew}
      select l."id" from "lot" l where true ${among} ${matching(asked)}
       order by ${orderOf(asked).order} limit ${asked.limit + 1}`)
  ).map(({ id }) => id);

/** What the words stand in besides numbers of lots and orders: keys of parts, customers and revisions of recipes. */
interface Named {
  patterns: string[];
  parts: number[];
  customers: number[];
  recipes: number[];
}

async function readNamed(execute: SqlExecutor, words: string): Promise<Named> {
  const patterns = indexedPatterns(words);
  const [row] = await execute<Omit<Named, 'patterns'>>(sql`${plannedAnew}
    select array(select p."id" from "part" p
                  where ${likeAny(sql`(p."number" || ' ' || p."description")`, patterns)} and ${likeAny(sql`p."number"`, patterns)}) as "parts",
           array(select c."id" from "customer" c where ${likeAny(sql`c."name"`, patterns)}) as "customers",
           array(select v."id" from "recipe" r join "recipe_revision" v on v."recipeId" = r."id"
                  where ${likeAny(sql`r."name"`, patterns)}) as "recipes"`);
  return { patterns, ...(row ?? { parts: [], customers: [], recipes: [] }) };
}

/** Keys of all lots that bear the words, some of them more than once; as many are read as are wanted. */
const bearers = ({ patterns, parts, customers, recipes }: Named): Prisma.Sql => {
  // Without `offset 0` the planner joins whole tables, though only the first of them are wanted.
  const ofOrders = (orders: Prisma.Sql) => sql`
    select l."id" from (${orders} offset 0) o
     cross join lateral (select ol."id" from "order_line" ol where ol."orderId" = o."id" offset 0) ol
     cross join lateral (select l."id" from "lot" l where l."orderLineId" = ol."id" offset 0) l`;
  const ofKeys = (column: Prisma.Sql, keys: readonly number[]) => sql`
    select l."id" from unnest(${[...keys]}::int[]) k ("id")
     cross join lateral (select l."id" from "lot" l where ${column} = k."id" offset 0) l`;
  return Prisma.join(
    [
      sql`select l."id" from "lot" l where ${likeAny(sql`l."number"`, patterns)}`,
      ofOrders(sql`select o."id" from "customer_order" o where ${likeAny(sql`o."number"`, patterns)}`),
      ofKeys(sql`l."partId"`, parts),
      ofKeys(sql`l."recipeRevisionId"`, recipes),
      ofOrders(sql`select o."id" from unnest(${customers}::int[]) k ("id")
        cross join lateral (select o."id" from "customer_order" o where o."customerId" = k."id" offset 0) o`),
    ],
    ' union all ',
  );
};

async function search(execute: SqlExecutor, asked: Asked, words: string): Promise<number[]> {
  const named = await readNamed(execute, words);
  const few = await execute<{ id: number }>(
    sql`${plannedAnew} select x."id" from (${bearers(named)}) x limit ${FEW + 1}`,
  );
  if (few.length <= FEW)
    return list(execute, asked, sql`and l."id" = any(${few.map(({ id }) => id)}::int[])`);
  const walked = await walk(execute, asked, named);
  return walked ?? list(execute, asked, sql`and l."id" = any(array(${bearers(named)}))`);
}

/** The page, where it fills within a stretch of the list or the list ends there. */
async function walk(execute: SqlExecutor, asked: Asked, named: Named): Promise<number[] | null> {
  const { patterns, parts, customers, recipes } = named;
  const { order } = orderOf(asked);
  const stretch = sql`select l.* from "lot" l where true ${matching(asked)} order by ${order} limit ${WINDOW}`;
  const [row] = await execute<{ ids: number[]; walked: number | null }>(sql`${plannedAnew}
    select f."ids", case when cardinality(f."ids") <= ${asked.limit}::int then (select count(*)::int from (${stretch}) s) end as "walked"
      from (select array(
        select l."id" from (${stretch}) l
          join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId"
         where ${likeAny(sql`l."number"`, patterns)} or ${likeAny(sql`o."number"`, patterns)} or l."partId" = any(${parts}::int[])
            or o."customerId" = any(${customers}::int[]) or l."recipeRevisionId" = any(${recipes}::int[])
         order by ${order} limit ${asked.limit + 1}) as "ids") f`);
  if (row === undefined) return [];
  return row.walked === null || row.walked < WINDOW ? row.ids : null;
}
