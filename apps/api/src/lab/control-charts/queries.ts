import type { BathChart } from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';

interface Asked {
  tankId: number;
  component: string;
  from?: string | undefined;
  to?: string | undefined;
}
const zone = sql`(select "timeZone" from "shop")`;
const between = (column: Prisma.Sql, options: Pick<Asked, 'from' | 'to'>): Prisma.Sql => sql`
  ${options.from === undefined ? Prisma.empty : sql`and ${column} >= (${options.from}::date)::timestamp at time zone ${zone}`}
  ${options.to === undefined ? Prisma.empty : sql`and ${column} < (${options.to}::date + 1)::timestamp at time zone ${zone}`}`;
/** What was corrected or voided is little: gathered once, not looked up for every point. */
const counts = sql`r."analysisId" not in (
  select n."supersedesId" from "analysis" n where n."supersedesId" is not null
  union all select v."id" from "analysis" v where v."voidedAt" is not null)`;
const ms = (column: Prisma.Sql) => sql`(extract(epoch from ${column}) * 1000)::float8`;

export const readFills = (execute: SqlExecutor, tankId: number) =>
  execute<{ bathId: number; number: string; madeUpAt: Date; dumpedAt: Date | null }>(sql`
    select "id" as "bathId", "number", "madeUpAt", "dumpedAt" from "bath" where "tankId" = ${tankId} order by "madeUpAt", "id"`);

interface Points {
  analysisId: number[];
  atMs: number[];
  value: number[];
  standardUncertainty: number[];
  bathId: number[];
}
/** The points of one component, oldest first, as arrays side by side. */
export async function readPoints(execute: SqlExecutor, options: Asked): Promise<Points> {
  const [row] = await execute<{ [Name in keyof Points]: Points[Name] | null }>(sql`
    select json_agg("analysisId") as "analysisId", json_agg("atMs") as "atMs", json_agg("value") as "value",
           json_agg("u") as "standardUncertainty", json_agg("bathId") as "bathId"
      from (
        select r."analysisId", ${ms(sql`r."sampledAt"`)} as "atMs", r."value", coalesce(r."standardUncertainty", 0) as "u", r."bathId"
          from "bath" b join "analysis_result" r on r."bathId" = b."id" and r."component" = ${options.component}
         where b."tankId" = ${options.tankId} and ${counts} ${between(sql`r."sampledAt"`, options)}
         order by r."sampledAt", r."id") p`);
  return {
    analysisId: row?.analysisId ?? [],
    atMs: row?.atMs ?? [],
    value: row?.value ?? [],
    standardUncertainty: row?.standardUncertainty ?? [],
    bathId: row?.bathId ?? [],
  };
}
export const readChartComponents = (execute: SqlExecutor, tankId: number) =>
  execute<{ key: string; name: string; points: number }>(sql`
    select c."key", c."points", (
             select r."name" from "bath" b join "analysis_result" r on r."bathId" = b."id" and r."component" = c."key"
              where b."tankId" = ${tankId} and ${counts} order by r."sampledAt" desc limit 1) as "name"
      from (select r."component" as "key", count(*)::int as "points"
              from "bath" b join "analysis_result" r on r."bathId" = b."id"
             where b."tankId" = ${tankId} and ${counts} group by r."component") c
     order by c."key"`);

/** What was done to a tank's fills, oldest first, in words. */
export const readEvents = (execute: SqlExecutor, options: Omit<Asked, 'component'>) =>
  execute<BathChart['events'][number]>(sql`
    select * from (
      select ${ms(sql`a."finishedAt"`)} as "atMs", a."kind", a."id", a."number",
             coalesce((
               select string_agg(case n."action"
                   when 'decant' then 'decant ' || coalesce(round(n."volumeL"::numeric, 1) || ' L', round(n."kg"::numeric, 1) || ' kg')
                   when 'add-water' then 'add ' || round(n."kg"::numeric, 1) || ' kg water'
                   when 'add-stock' then 'add ' || round(n."kg"::numeric, 2) || ' kg ' || (n."snapshot" -> 'chemical' ->> 'code')
                   else n."action" end, ', ' order by n."position")
                 from "addition_line" n
                where n."additionId" = a."id"), a."kind") as "words"
        from "addition" a join "bath" b on b."id" = a."bathId"
       where b."tankId" = ${options.tankId} and a."state" = 'done'
         and not exists (select 1 from "addition" n where n."correctsId" = a."id") ${between(sql`a."finishedAt"`, options)}
      union all
      select ${ms(sql`b."dumpedAt"`)}, 'dump', b."id", b."number", coalesce(b."dumpReason", '')
        from "bath" b where b."tankId" = ${options.tankId} and b."dumpedAt" is not null ${between(sql`b."dumpedAt"`, options)}) e
     order by e."atMs"`);

interface BaselineRow {
  from: Date;
  to: Date;
  reason: string;
  setBy: string;
  setAt: Date;
}
export async function readBaseline(
  execute: SqlExecutor,
  { tankId, component }: { tankId: number; component: string },
): Promise<BaselineRow | null> {
  const [row] = await execute<BaselineRow>(sql`
    select c."fromAt" as "from", c."toAt" as "to", c."reason", c."snapshot" ->> 'setBy' as "setBy", c."setAt"
      from "chart_baseline" c
     where c."tankId" = ${tankId} and c."component" = ${component} order by c."id" desc limit 1`);
  return row ?? null;
}
export const addBaseline = (
  execute: SqlExecutor,
  options: { tankId: number; component: string; from: string; to: string; reason: string; setById: number },
) =>
  execute(sql`
    insert into "chart_baseline" ("tankId", "component", "fromAt", "toAt", "reason", "setById")
    values (${options.tankId}, ${options.component}, ${options.from}::timestamptz, ${options.to}::timestamptz, ${options.reason}, ${options.setById})`);

export async function readTimeZone(execute: SqlExecutor): Promise<string> {
  const [row] = await execute<{ timeZone: string }>(sql`select "timeZone" from "shop"`);
  return row?.timeZone ?? 'UTC';
}
