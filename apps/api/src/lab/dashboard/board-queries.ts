import type { TankContents } from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';
import { analysisCounts } from '../baths/index.ts';

export interface BoardRow {
  id: number;
  number: string;
  tank: { id: number; code: string; name: string };
  lineOrder: number;
  contents: TankContents;
  madeUpAt: Date;
  dumpedAt: Date | null;
  lastAnalysedAt: Date | null;
  plannedAdditions: number;
}

/** Fills in the order of the line, one more than asked for. */
export const readBoard = (
  execute: SqlExecutor,
  {
    fills,
    contents,
    search,
    after,
    limit,
  }: {
    search?: string | undefined;
    fills: 'open' | 'dumped' | 'all';
    contents?: TankContents | undefined;
    after: { lineOrder: number; code: string; id: number } | null;
    limit: number;
  },
) =>
  execute<BoardRow>(sql`
    select b."id", b."number", coalesce(b."snapshot" -> 'tank', snapshot_of('tank', t."id")) as "tank", t."lineOrder",
           b."contents", b."madeUpAt", b."dumpedAt",
           (select max(a."sampledAt") from "analysis" a where a."bathId" = b."id" and ${analysisCounts(sql`a."id"`)}) as "lastAnalysedAt",
           (select count(*)::int from "addition" x where x."bathId" = b."id" and x."state" = 'planned') as "plannedAdditions"
      from "bath" b join "tank" t on t."id" = b."tankId"
     where true
       ${fills === 'all' ? Prisma.empty : fills === 'open' ? sql`and b."dumpedAt" is null` : sql`and b."dumpedAt" is not null`}
       ${contents === undefined ? Prisma.empty : sql`and b."contents" = ${contents}`}
       ${search ? sql`and (b."number" || ' ' || t."code" || ' ' || t."name") ilike ${containing(search)}` : Prisma.empty}
       ${after === null ? Prisma.empty : sql`and (t."lineOrder", t."code", b."id") > (${after.lineOrder}::int, ${after.code}, ${after.id}::int)`}
     order by t."lineOrder", t."code", b."id" limit ${limit + 1}`);

/** What was weighed into a bath and taken out, corrected records only as corrected. */
export async function readBook(execute: SqlExecutor, bathId: number) {
  const [row] = await execute<{
    additions: number;
    analyses: number;
    bookedKg: number;
    chemicals: { chemicalId: number; name: string; kg: number; cost: string | null }[];
  }>(sql`
    with counted as (
      select x.* from "addition" x
       where x."bathId" = ${bathId} and x."state" = 'done' and not exists (select 1 from "addition" n where n."correctsId" = x."id")),
    lines as (select n.* from counted x join "addition_line" n on n."additionId" = x."id"),
    used as (
      select (n."snapshot" -> 'chemical' ->> 'id')::int as "chemicalId",
             (array_agg(n."snapshot" -> 'chemical' ->> 'name' order by n."id" desc))[1] as "name", sum(n."kg") as "kg", sum(n."cost")::text as "cost"
        from lines n where n."chemicalLotId" is not null
       group by 1 order by 2)
    select (select count(*)::int from counted) as "additions",
           (select count(*)::int from "analysis" a where a."bathId" = ${bathId}
              and ${analysisCounts(sql`a."id"`)}) as "analyses",
           (select coalesce(sum(case when "action" = 'decant' then -"kg" when "action" in ('add-water', 'add-stock') then "kg" else 0 end), 0)::float8
              from lines) as "bookedKg",
           (select coalesce(jsonb_agg(to_jsonb(used)), '[]'::jsonb) from used) as "chemicals"`);
  return row ?? { additions: 0, analyses: 0, bookedKg: 0, chemicals: [] };
}
export const readOtherFills = (
  execute: SqlExecutor,
  { tankId, bathId }: { tankId: number; bathId: number },
) =>
  execute<{ id: number; number: string; madeUpAt: Date; dumpedAt: Date | null }>(sql`
    select "id", "number", "madeUpAt", "dumpedAt" from "bath" where "tankId" = ${tankId} and "id" <> ${bathId}
     order by "id" desc limit 50`);
/** What the tank of a bath is called; of one that is gone, what it was called when it was dumped. */
export async function readTankName(execute: SqlExecutor, bathId: number): Promise<string> {
  const [row] = await execute<{ name: string }>(sql`
    select coalesce(b."snapshot" -> 'tank' ->> 'name', t."name") as "name"
      from "bath" b join "tank" t on t."id" = b."tankId" where b."id" = ${bathId}`);
  return row?.name ?? '';
}
