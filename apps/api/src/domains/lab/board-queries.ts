import type { TankContents } from '@huelot/contracts';
import { Prisma, sql, type Run } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

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
  run: Run,
  of: {
    search?: string | undefined;
    fills: 'open' | 'dumped' | 'all';
    contents?: TankContents | undefined;
    after: { lineOrder: number; code: string; id: number } | null;
    limit: number;
  },
) =>
  run<BoardRow>(sql`
    select b."id", b."number", jsonb_build_object('id', t."id", 'code', t."code", 'name', t."name") as "tank", t."lineOrder",
           b."contents", b."madeUpAt", b."dumpedAt",
           (select max(a."sampledAt") from "analysis" a where a."bathId" = b."id") as "lastAnalysedAt",
           (select count(*)::int from "addition" x where x."bathId" = b."id" and x."state" = 'planned') as "plannedAdditions"
      from "bath" b join "tank" t on t."id" = b."tankId"
     where true
       ${of.fills === 'all' ? Prisma.empty : of.fills === 'open' ? sql`and b."dumpedAt" is null` : sql`and b."dumpedAt" is not null`}
       ${of.contents === undefined ? Prisma.empty : sql`and b."contents" = ${of.contents}`}
       ${of.search ? sql`and (b."number" || ' ' || t."code" || ' ' || t."name") ilike ${containing(of.search)}` : Prisma.empty}
       ${of.after === null ? Prisma.empty : sql`and (t."lineOrder", t."code", b."id") > (${of.after.lineOrder}::int, ${of.after.code}, ${of.after.id}::int)`}
     order by t."lineOrder", t."code", b."id" limit ${of.limit + 1}`);

/** What was weighed into a bath and taken out, corrected records only as corrected. */
export async function readBook(run: Run, bathId: number) {
  const [row] = await run<{
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
      select c."id" as "chemicalId", c."name", sum(n."kg") as "kg", sum(n."cost")::text as "cost"
        from lines n join "chemical_lot" l on l."id" = n."chemicalLotId" join "chemical" c on c."id" = l."chemicalId"
       group by c."id", c."name" order by c."name")
    select (select count(*)::int from counted) as "additions",
           (select count(*)::int from "analysis" a where a."bathId" = ${bathId}
              and not exists (select 1 from "analysis" n where n."supersedesId" = a."id")) as "analyses",
           (select coalesce(sum(case when "action" = 'decant' then -"kg" when "action" in ('add-water', 'add-stock') then "kg" else 0 end), 0)::float8
              from lines) as "bookedKg",
           (select coalesce(jsonb_agg(to_jsonb(used)), '[]'::jsonb) from used) as "chemicals"`);
  return row ?? { additions: 0, analyses: 0, bookedKg: 0, chemicals: [] };
}
export const readOtherFills = (run: Run, of: { tankId: number; bathId: number }) =>
  run<{ id: number; number: string; madeUpAt: Date; dumpedAt: Date | null }>(sql`
    select "id", "number", "madeUpAt", "dumpedAt" from "bath" where "tankId" = ${of.tankId} and "id" <> ${of.bathId}
     order by "id" desc limit 50`);
export async function readTankName(run: Run, tankId: number): Promise<string> {
  const [row] = await run<{ name: string }>(sql`select "name" from "tank" where "id" = ${tankId}`);
  return row?.name ?? '';
}
