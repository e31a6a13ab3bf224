import type { BathChart } from '@huelot/contracts';
import { Prisma, sql, type Run } from '../../db/client.ts';

interface Asked {
  tankId: number;
  component: string;
  from?: string | undefined;
  to?: string | undefined;
}
const zone = sql`(select "timeZone" from "shop")`;
const between = (column: Prisma.Sql, of: Pick<Asked, 'from' | 'to'>): Prisma.Sql => sql`
  ${of.from === undefined ? Prisma.empty : sql`and ${column} >= (${of.from}::date)::timestamp at time zone ${zone}`}
  ${of.to === undefined ? Prisma.empty : sql`and ${column} < (${of.to}::date + 1)::timestamp at time zone ${zone}`}`;
/** What was corrected is little: gathered once, not looked up for every point. */
const counts = sql`r."analysisId" not in (select n."supersedesId" from "analysis" n where n."supersedesId" is not null)`;
const ms = (column: Prisma.Sql) => sql`(extract(epoch from ${column}) * 1000)::float8`;

export const readFills = (run: Run, tankId: number) =>
  run<{ bathId: number; number: string; madeUpAt: Date; dumpedAt: Date | null }>(sql`
    select "id" as "bathId", "number", "madeUpAt", "dumpedAt" from "bath" where "tankId" = ${tankId} order by "madeUpAt", "id"`);

interface Points {
  analysisId: number[];
  atMs: number[];
  value: number[];
  standardUncertainty: number[];
  bathId: number[];
}
/** The points of one component, oldest first, as arrays side by side. */
export async function readPoints(run: Run, of: Asked): Promise<Points> {
  const [row] = await run<{ [Name in keyof Points]: Points[Name] | null }>(sql`
    select json_agg("analysisId") as "analysisId", json_agg("atMs") as "atMs", json_agg("value") as "value",
           json_agg("u") as "standardUncertainty", json_agg("bathId") as "bathId"
      from (
        select r."analysisId", ${ms(sql`r."sampledAt"`)} as "atMs", r."value", coalesce(r."standardUncertainty", 0) as "u", r."bathId"
          from "bath" b join "analysis_result" r on r."bathId" = b."id" and r."component" = ${of.component}
         where b."tankId" = ${of.tankId} and ${counts} ${between(sql`r."sampledAt"`, of)}
         order by r."sampledAt", r."id") p`);
  return {
    analysisId: row?.analysisId ?? [],
    atMs: row?.atMs ?? [],
    value: row?.value ?? [],
    standardUncertainty: row?.standardUncertainty ?? [],
    bathId: row?.bathId ?? [],
  };
}
export const readChartComponents = (run: Run, tankId: number) =>
  run<{ key: string; name: string; points: number }>(sql`
    select c."key", c."points", (
             select r."name" from "bath" b join "analysis_result" r on r."bathId" = b."id" and r."component" = c."key"
              where b."tankId" = ${tankId} order by r."sampledAt" desc limit 1) as "name"
      from (select r."component" as "key", count(*)::int as "points"
              from "bath" b join "analysis_result" r on r."bathId" = b."id"
             where b."tankId" = ${tankId} group by r."component") c
     order by c."key"`);

/** What was done to a tank's fills, oldest first, in words. */
export const readEvents = (run: Run, of: Omit<Asked, 'component'>) =>
  run<BathChart['events'][number]>(sql`
    select * from (
      select ${ms(sql`a."finishedAt"`)} as "atMs", a."kind", a."id", a."number",
             coalesce((
               select string_agg(case n."action"
                   when 'decant' then 'decant ' || coalesce(round(n."volumeL"::numeric, 1) || ' L', round(n."kg"::numeric, 1) || ' kg')
                   when 'add-water' then 'add ' || round(n."kg"::numeric, 1) || ' kg water'
                   when 'add-stock' then 'add ' || round(n."kg"::numeric, 2) || ' kg ' || c."code"
                   else n."action" end, ', ' order by n."position")
                 from "addition_line" n
                 left join "chemical_lot" l on l."id" = n."chemicalLotId"
                 left join "chemical" c on c."id" = l."chemicalId"
                where n."additionId" = a."id"), a."kind") as "words"
        from "addition" a join "bath" b on b."id" = a."bathId"
       where b."tankId" = ${of.tankId} and a."state" = 'done'
         and not exists (select 1 from "addition" n where n."correctsId" = a."id") ${between(sql`a."finishedAt"`, of)}
      union all
      select ${ms(sql`b."dumpedAt"`)}, 'dump', b."id", b."number", coalesce(b."dumpReason", '')
        from "bath" b where b."tankId" = ${of.tankId} and b."dumpedAt" is not null ${between(sql`b."dumpedAt"`, of)}) e
     order by e."atMs"`);

interface BaselineRow {
  from: Date;
  to: Date;
  reason: string;
  setBy: string;
  setAt: Date;
}
export async function readBaseline(
  run: Run,
  of: { tankId: number; component: string },
): Promise<BaselineRow | null> {
  const [row] = await run<BaselineRow>(sql`
    select c."fromAt" as "from", c."toAt" as "to", c."reason", p."displayName" as "setBy", c."setAt"
      from "chart_baseline" c join "person" p on p."id" = c."setById"
     where c."tankId" = ${of.tankId} and c."component" = ${of.component} order by c."id" desc limit 1`);
  return row ?? null;
}
export const addBaseline = (
  run: Run,
  of: { tankId: number; component: string; from: string; to: string; reason: string; setById: number },
) =>
  run(sql`
    insert into "chart_baseline" ("tankId", "component", "fromAt", "toAt", "reason", "setById")
    values (${of.tankId}, ${of.component}, ${of.from}::timestamptz, ${of.to}::timestamptz, ${of.reason}, ${of.setById})`);
