import type { AnalysisResult, BathUse, ComponentUnit, ResultState } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { analysisCounts } from './analysis-count-queries.ts';

export interface ResultRow {
  bathId: number;
  analysisId: number;
  analysisNumber: string;
  sampledAt: Date;
  component: string;
  name: string;
  value: number;
  standardUncertainty: number | null;
  unit: ComponentUnit;
  referenceTemperatureC: number | null;
  massFraction: number | null;
  gramsPerLitre: number | null;
  spread: number | null;
  target: number | null;
  low: number | null;
  high: number | null;
  stopLow: number | null;
  stopHigh: number | null;
  state: ResultState;
}
/** Columns of `analysis_result` as `r` and `analysis` as `a`. */
export const resultColumns = sql`
  r."bathId", r."analysisId", a."number" as "analysisNumber", r."sampledAt", r."component", r."name", r."value",
  r."standardUncertainty", r."unit", r."referenceTemperatureC", r."massFraction", r."gramsPerLitre", r."spread",
  r."target", r."low", r."high", r."stopLow", r."stopHigh", r."state"`;

/** How a page shows a result. */
export const toResult = ({
  bathId: _,
  target,
  low,
  high,
  stopLow,
  stopHigh,
  ...row
}: ResultRow): AnalysisResult => ({
  ...row,
  sampledAt: row.sampledAt.toISOString(),
  limits: { target, low, high, stopLow, stopHigh },
});

/** Of a bath as `b`: it is watched or on hold, so that there is something to say of it. */
export const isMonitored = sql`(
  exists (select 1 from "bath_setup" s where s."bathId" = b."id")
  or exists (select 1 from "bath_hold" h where h."bathId" = b."id" and h."releasedAt" is null))`;

/** The fills that stand in tanks now. */
export const readStanding = async (execute: SqlExecutor, tankIds: readonly number[]) =>
  tankIds.length === 0
    ? []
    : execute<{ id: number; tankId: number; madeUpAt: Date; isJudged: boolean }>(sql`
        select b."id", b."tankId", b."madeUpAt", ${isMonitored} as "isJudged"
          from "bath" b where b."tankId" = any(${[...tankIds]}) and b."dumpedAt" is null`);

/** Baths whose make-up is planned and not done: nothing stands in the tank yet. */
export const readUnfilled = (execute: SqlExecutor, bathIds: readonly number[]) =>
  execute<{ bathId: number; makeUp: string }>(sql`
    select "bathId", "number" as "makeUp" from "addition"
     where "bathId" = any(${[...bathIds]}) and "kind" = 'make-up' and "state" = 'planned'`);

/** The latest result of each component that a bath is watched for, where there is one. */
export const readLatest = async (execute: SqlExecutor, bathIds: readonly number[]) =>
  bathIds.length === 0
    ? []
    : execute<ResultRow>(sql`
    select ${resultColumns}
      from unnest(${[...bathIds]}::int[]) as b("id")
      join lateral (select s."setup" from "bath_setup" s where s."bathId" = b."id" order by s."revision" desc limit 1) s on true
      join lateral jsonb_array_elements(s."setup"->'components') with ordinality as c("of", "at") on true
      join lateral (
        select r.* from "analysis_result" r
         where r."bathId" = b."id" and r."component" = c."of"->>'key'
           and ${analysisCounts(sql`r."analysisId"`)}
         order by r."sampledAt" desc, r."id" desc limit 1) r on true
      join "analysis" a on a."id" = r."analysisId"
     order by b."id", c."at"`);

/** What was done in a bath after an instant and up to another, for several at once and in their order. */
export async function readUse(
  execute: SqlExecutor,
  items: readonly { bathId: number; since: Date | null; until?: Date }[],
): Promise<Omit<BathUse, 'days'>[]> {
  if (items.length === 0) return [];
  const rows = items.map(({ bathId, since, until }, index) => ({
    at: index,
    bathId,
    since: since?.toISOString() ?? '-infinity',
    until: until?.toISOString() ?? 'infinity',
  }));
  return execute<Omit<BathUse, 'days'>>(sql`
    select count(o."areaMm2")::int as "loads", coalesce(sum(o."areaMm2") / 1e6, 0)::float8 as "areaM2",
           coalesce(sum(o."coulombs") / 3600, 0)::float8 as "ampereHours"
      from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as q("at" int, "bathId" int, "since" timestamptz, "until" timestamptz)
      left join lateral (
        select x."areaMm2",
               case when t."electrical" is not null then coalesce(
                 (select r."value" from "step_reading" r where r."signOffId" = s."id" and r."quantity" = 'chargeCPerM2') * x."areaMm2" / 1e6,
                 (t."electrical"->>'chargeCPerM2')::float8 * x."areaMm2" / 1e6,
                 (t."load"->>'steadyCurrentA')::float8 * t."durationS") end as "coulombs"
          from "step_sign_off" s
          join "traveler_step" t on t."id" = s."stepId"
          join "part" p on p."id" = s."partId"
          cross join lateral (
            select coalesce((t."load"->>'loadAreaMm2')::float8, s."countIn" * p."areaMm2") as "areaMm2") x
         where s."bathId" = q."bathId" and s."doneAt" > q."since" and s."doneAt" <= q."until"
           and not coalesce((select c."doneAt" is null from "step_done_correction" c
                              where c."signOffId" = s."id" order by c."id" desc limit 1), false)) o on true
     group by q."at" order by q."at"`);
}
