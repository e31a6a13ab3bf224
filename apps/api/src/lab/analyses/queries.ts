import type {
  Analysis,
  AnalysisReadings,
  AnalysisReason,
  AnalysisSummary,
  MethodSettings,
  ResultState,
} from '@huelot/contracts';
import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { indexedPatterns, likeAny } from '../../db/lists.ts';
import { analysisCounts, resultColumns, type ResultRow, toResult } from '../baths/index.ts';

export interface SummaryRow {
  id: number;
  number: string;
  bathId: number;
  bathNumber: string;
  tankCode: string;
  sampledAt: Date;
  why: AnalysisReason;
  method: string;
  analyst: string;
  superseded: boolean;
  voided: boolean;
  questions: number;
}
interface Asked {
  ids?: readonly number[] | undefined;
  search?: string | undefined;
  bathId?: number | undefined;
  tankId?: number | undefined;
  component?: string | undefined;
  state?: ResultState | undefined;
  /** Days in the shop's time zone, both included. */
  from?: string | undefined;
  to?: string | undefined;
}
const zone = sql`(select "timeZone" from "shop")`;
/** Who it was by the notebook it came from, or who entered it, as they were called then. */
const analyst = sql`coalesce(a."analystName", a."snapshot" ->> 'analyst')`;
/** Its number, who it was by and its notes, as the index has them. */
const words = sql`(a."number" || ' ' || coalesce(a."analystName", a."snapshot" ->> 'analyst', '') || ' ' || a."notes")`;
/** Words that stand in what an analysis says of itself, or in the name of its bath or tank. */
const bears = (text: string): Prisma.Sql => {
  const patterns = indexedPatterns(text);
  return sql`(${likeAny(words, patterns)} or a."bathId" = any(array(
    select b."id" from "bath" b join "tank" t on t."id" = b."tankId"
     where ${likeAny(sql`b."number"`, patterns)} or ${likeAny(sql`t."code"`, patterns)})))`;
};
const matching = (options: Asked): Prisma.Sql => sql`
  ${options.ids === undefined ? Prisma.empty : sql`and a."id" = any(${[...options.ids]})`}
  ${options.bathId === undefined ? Prisma.empty : sql`and a."bathId" = ${options.bathId}`}
  ${options.tankId === undefined ? Prisma.empty : sql`and b."tankId" = ${options.tankId}`}
  ${options.from === undefined ? Prisma.empty : sql`and a."sampledAt" >= (${options.from}::date)::timestamp at time zone ${zone}`}
  ${options.to === undefined ? Prisma.empty : sql`and a."sampledAt" < (${options.to}::date + 1)::timestamp at time zone ${zone}`}
  ${options.search ? sql`and ${bears(options.search)}` : Prisma.empty}
  ${
    options.component === undefined && options.state === undefined
      ? Prisma.empty
      : sql`and exists (select 1 from "analysis_result" r where r."analysisId" = a."id"
          ${options.component === undefined ? Prisma.empty : sql`and r."component" = ${options.component}`}
          ${options.state === undefined ? Prisma.empty : sql`and r."state" = ${options.state}`})`
  }`;
const from = sql`
    from "analysis" a
    join "bath" b on b."id" = a."bathId"
    join "tank" t on t."id" = b."tankId"
    join "analysis_method" m on m."id" = a."methodId"`;

/** Analyses, the latest sample first, one more than the page holds. */
export const readAnalyses = (
  execute: SqlExecutor,
  options: Asked & { before: { sampledAt: string; id: number } | null; limit: number },
) =>
  execute<SummaryRow>(sql`${plannedAnew}
    select a."id", a."number", a."bathId", b."number" as "bathNumber", a."snapshot" -> 'bath' ->> 'tankCode' as "tankCode", a."sampledAt", a."why",
           m."code" || ' rev ' || m."revision" as "method", ${analyst} as "analyst",
           exists (select 1 from "analysis" n where n."supersedesId" = a."id") as "superseded", a."voidedAt" is not null as "voided",
           cardinality(a."questions")::int as "questions"
      ${from} where true ${matching(options)}
        ${options.before === null ? Prisma.empty : sql`and (a."sampledAt", a."id") < (${options.before.sampledAt}::timestamptz, ${options.before.id}::int)`}
     order by a."sampledAt" desc, a."id" desc limit ${options.limit + 1}`);

/** Every result that an export holds, one row each. */
export const readResultRows = (execute: SqlExecutor, options: Asked & { limit: number }) =>
  execute<
    ResultRow & {
      bathNumber: string;
      tankCode: string;
      method: string;
      analyst: string;
      superseded: boolean;
      voided: boolean;
    }
  >(sql`
    select ${resultColumns}, b."number" as "bathNumber", a."snapshot" -> 'bath' ->> 'tankCode' as "tankCode", m."code" || ' rev ' || m."revision" as "method",
           ${analyst} as "analyst",
           exists (select 1 from "analysis" n where n."supersedesId" = a."id") as "superseded", a."voidedAt" is not null as "voided"
      ${from} join "analysis_result" r on r."analysisId" = a."id" where true ${matching(options)}
     order by a."sampledAt" desc, a."id" desc, r."id" limit ${options.limit}`);

const readResults = (execute: SqlExecutor, analysisIds: readonly number[]) =>
  execute<ResultRow>(sql`
    select ${resultColumns} from "analysis_result" r join "analysis" a on a."id" = r."analysisId"
     where r."analysisId" = any(${[...analysisIds]}) order by r."id"`);

/** The analyses that stood before and after steps were signed in a bath, superseded ones left out. */
export const readAroundSteps = (execute: SqlExecutor, signOffIds: readonly number[]) =>
  execute<{
    signOffId: number;
    bath: { id: number; number: string };
    beforeId: number | null;
    afterId: number | null;
  }>(sql`
    select s."id" as "signOffId", jsonb_build_object('id', b."id", 'number', b."number") as "bath",
           (select a."id" from "analysis" a
             where a."bathId" = b."id" and a."sampledAt" <= s."doneAt" and ${analysisCounts(sql`a."id"`)}
             order by a."sampledAt" desc, a."id" desc limit 1) as "beforeId",
           (select a."id" from "analysis" a
             where a."bathId" = b."id" and a."sampledAt" > s."doneAt" and ${analysisCounts(sql`a."id"`)}
             order by a."sampledAt", a."id" limit 1) as "afterId"
      from "step_sign_off" s join "bath" b on b."id" = s."bathId"
     where s."id" = any(${[...signOffIds]}) order by s."doneAt", s."id"`);

/** How a page lists analyses. */
export async function toSummaries(
  execute: SqlExecutor,
  rows: readonly SummaryRow[],
): Promise<AnalysisSummary[]> {
  if (rows.length === 0) return [];
  const results = await readResults(
    execute,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({
    ...row,
    sampledAt: row.sampledAt.toISOString(),
    results: results.filter(({ analysisId }) => analysisId === row.id).map(toResult),
  }));
}

export interface AnalysisRow extends Omit<
  Analysis,
  'sampledAt' | 'analysedAt' | 'enteredAt' | 'reviewedAt' | 'void' | 'results' | 'use' | 'readings'
> {
  sampledAt: Date;
  analysedAt: Date;
  enteredAt: Date;
  reviewedAt: Date | null;
  voidedAt: Date | null;
  voidedBy: string | null;
  voidReason: string | null;
  readings: AnalysisReadings;
  analystId: number;
  analystName: string | null;
  setupRevision: number | null;
  settings: MethodSettings;
  madeUpAt: Date;
  /** When the sample before it was taken. */
  before: Date | null;
}
const ref = (alias: string): Prisma.Sql => {
  const name = Prisma.raw(`"${alias}"`);
  return sql`case when ${name}."id" is null then null else jsonb_build_object('id', ${name}."id", 'number', ${name}."number") end`;
};
const whole = sql`
  select a."id", a."number", a."sampledAt", a."analysedAt", a."enteredAt", a."analystId", a."analystName",
         ${analyst} as "analyst", a."why", a."samplePoint", a."volumeL", a."agitation",
         a."bathTemperatureC", a."readings", a."densityKgPerM3", a."questions", a."flags", a."answer", a."notes",
         a."calcVersion", a."supersedeReason", a."reviewedAt", a."snapshot" ->> 'reviewedBy' as "reviewedBy", a."setupRevision",
         a."voidedAt", a."snapshot" ->> 'voidedBy' as "voidedBy", a."voidReason",
         m."settings", b."madeUpAt",
         a."snapshot" -> 'bath' as "bath",
         jsonb_build_object('id', m."id", 'code', m."code", 'revision', m."revision", 'name', m."name", 'formula', m."formula") as "method",
         case when s."id" is null then null else (a."snapshot" -> 'titrant') || jsonb_build_object('standardisationId', s."id", 'eqPerLitre', s."eqPerLitre",
           'standardUncertaintyEqPerLitre', s."standardUncertaintyEqPerLitre", 'standardisedOn', s."standardisedOn"::text) end as "titrant",
         a."snapshot" -> 'instrument' as "instrument",
         case when a."outsideLaboratory" is null then null else jsonb_build_object('laboratory', a."outsideLaboratory",
           'reportNumber', a."outsideReport", 'reportedOn', a."outsideReportedOn"::text,
           'file', case when e."id" is null then null else jsonb_build_object('id', e."id", 'name', e."name") end) end as "outside",
         ${ref('o')} as "supersedes", ${ref('n')} as "supersededBy",
         (select coalesce(jsonb_agg(jsonb_build_object('id', x."id", 'number', x."number") order by x."id"), '[]'::jsonb)
            from "addition" x where x."fromAnalysisId" = a."id") as "additions",
         (select max(e."sampledAt") from "analysis" e where e."bathId" = a."bathId" and e."sampledAt" < a."sampledAt"
            and ${analysisCounts(sql`e."id"`)}) as "before"
    ${from}
    left join "standardisation" s on s."id" = a."standardisationId"
    left join "file" e on e."id" = a."outsideFileId"
    left join "analysis" o on o."id" = a."supersedesId"
    left join "analysis" n on n."supersedesId" = a."id"`;

/** Code of the method that the newest analysis of this tank was made by. */
export const readLastMethodCode = async (execute: SqlExecutor, bathId: number): Promise<string | null> =>
  (
    await execute<{ code: string }>(sql`
      select m."code" from "bath" me join "bath" b on b."tankId" = me."tankId"
        join "analysis" a on a."bathId" = b."id" join "analysis_method" m on m."id" = a."methodId"
       where me."id" = ${bathId} order by a."sampledAt" desc limit 1`)
  )[0]?.code ?? null;

export const readAnalysis = async (execute: SqlExecutor, id: number): Promise<AnalysisRow | null> =>
  (await execute<AnalysisRow>(sql`${whole} where a."id" = ${id}`))[0] ?? null;
/** What was titrated with a strength that turned out wrong, and still counts. */
export const readTitratedWith = (execute: SqlExecutor, standardisationId: number) =>
  execute<AnalysisRow>(sql`
    ${whole} where a."standardisationId" = ${standardisationId} and n."id" is null and a."voidedAt" is null order by a."id"`);
export const readResultsOf = async (execute: SqlExecutor, id: number) =>
  (await readResults(execute, [id])).map(toResult);
/** Places that samples of a bath's tank were taken from lately, the most used first. */
export const readSamplePoints = async (execute: SqlExecutor, bathId: number): Promise<string[]> =>
  (
    await execute<{ samplePoint: string }>(sql`
      select a."samplePoint" from "bath" me join "bath" b on b."tankId" = me."tankId"
        join "analysis" a on a."bathId" = b."id" and a."samplePoint" <> '' and a."sampledAt" > now() - interval '1 year'
       where me."id" = ${bathId} group by 1 order by count(*) desc, 1 limit 10`)
  ).map(({ samplePoint }) => samplePoint);
