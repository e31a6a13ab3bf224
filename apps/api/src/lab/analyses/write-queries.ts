import type {
  AnalysisRequest,
  AnalysisReadings,
  AnalysisReason,
  AnalysisResult,
  Limits,
  NewAnalysis,
} from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

export type NewResult = Pick<
  AnalysisResult,
  | 'component'
  | 'name'
  | 'value'
  | 'standardUncertainty'
  | 'unit'
  | 'referenceTemperatureC'
  | 'massFraction'
  | 'gramsPerLitre'
  | 'spread'
  | 'state'
> &
  Limits;

/** An analysis as it is written, once. */
export interface NewRow {
  number: string;
  bathId: number;
  methodId: number;
  sampledAt: Date;
  analysedAt: Date;
  analystId: number;
  analystName: string | null;
  why: AnalysisReason;
  samplePoint: string;
  volumeL: number | null;
  agitation: boolean | null;
  bathTemperatureC: number | null;
  readings: AnalysisReadings;
  standardisationId: number | null;
  instrumentId: number | null;
  setupRevision: number | null;
  densityKgPerM3: number | null;
  questions: string[];
  flags: string[];
  answer: string;
  notes: string;
  calcVersion: string;
  outside?: NewAnalysis['outside'];
  supersedesId: number | null;
  supersedeReason: string | null;
}

/** Writes analyses with their results in one statement, however many; returns their keys in the same order. */
export async function addAnalyses(
  execute: SqlExecutor,
  written: readonly { row: NewRow; results: readonly NewResult[] }[],
): Promise<number[]> {
  const rows = written.map(({ row: { outside, ...row } }) => ({
    ...row,
    outsideLaboratory: outside?.laboratory,
    outsideReport: outside?.reportNumber,
    outsideReportedOn: outside?.reportedOn,
    outsideFileId: outside?.fileId,
  }));
  const results = written.flatMap(({ row: { number }, results }) =>
    results.map((result) => ({ ...result, number })),
  );
  const added = await execute<{ id: number; number: string }>(sql`
    with added as (
      insert into "analysis" ("number", "bathId", "methodId", "sampledAt", "analysedAt", "analystId", "analystName", "why",
        "samplePoint", "volumeL", "agitation", "bathTemperatureC", "readings", "standardisationId", "instrumentId",
        "setupRevision", "densityKgPerM3", "questions", "flags", "answer", "notes", "calcVersion", "supersedesId", "supersedeReason",
        "outsideLaboratory", "outsideReport", "outsideReportedOn", "outsideFileId")
      select a."number", a."bathId", a."methodId", a."sampledAt", a."analysedAt", a."analystId", a."analystName", a."why",
        a."samplePoint", a."volumeL", a."agitation", a."bathTemperatureC", a."readings", a."standardisationId", a."instrumentId",
        a."setupRevision", a."densityKgPerM3", a."questions", a."flags", a."answer", a."notes", a."calcVersion", a."supersedesId", a."supersedeReason",
        a."outsideLaboratory", a."outsideReport", a."outsideReportedOn", a."outsideFileId"
        from rows from (jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as ("number" text, "bathId" int, "methodId" int,
          "sampledAt" timestamptz, "analysedAt" timestamptz, "analystId" int, "analystName" text, "why" text, "samplePoint" text,
          "volumeL" float8, "agitation" boolean, "bathTemperatureC" float8, "readings" jsonb, "standardisationId" int,
          "instrumentId" int, "setupRevision" int, "densityKgPerM3" float8, "questions" text[], "flags" text[], "answer" text,
          "notes" text, "calcVersion" text, "supersedesId" int, "supersedeReason" text, "outsideLaboratory" text,
          "outsideReport" text, "outsideReportedOn" date, "outsideFileId" int)) with ordinality as a
       order by a."ordinality"
      returning "id", "number", "bathId", "sampledAt"),
    found as (
      insert into "analysis_result" ("analysisId", "bathId", "sampledAt", "component", "name", "value", "standardUncertainty",
        "unit", "referenceTemperatureC", "massFraction", "gramsPerLitre", "spread", "target", "low", "high", "stopLow", "stopHigh", "state")
      select a."id", a."bathId", a."sampledAt", r."component", r."name", r."value", r."standardUncertainty", r."unit",
             r."referenceTemperatureC", r."massFraction", r."gramsPerLitre", r."spread", r."target", r."low", r."high",
             r."stopLow", r."stopHigh", r."state"
        from rows from (jsonb_to_recordset(${JSON.stringify(results)}::jsonb) as ("number" text, "component" text, "name" text,
          "value" float8, "standardUncertainty" float8, "unit" text, "referenceTemperatureC" float8, "massFraction" float8,
          "gramsPerLitre" float8, "spread" float8, "target" float8, "low" float8, "high" float8, "stopLow" float8,
          "stopHigh" float8, "state" text)) with ordinality as r
        join added a on a."number" = r."number"
       order by r."ordinality")
    select "id", "number" from added`);
  const ids = new Map(added.map(({ id, number }) => [number, id]));
  return rows.map(({ number }) => {
    const id = ids.get(number);
    if (id === undefined) throw new Error(`analysis ${number} was not written`);
    return id;
  });
}

/** Writes one analysis with its results; returns its key. */
export async function addAnalysis(
  execute: SqlExecutor,
  row: NewRow,
  results: readonly NewResult[],
): Promise<number> {
  const [id] = await addAnalyses(execute, [{ row, results }]);
  if (id === undefined) throw new Error(`analysis ${row.number} was not written`);
  return id;
}

export const reviewAnalysis = (execute: SqlExecutor, { personId, id }: { id: number; personId: number }) =>
  execute(sql`update "analysis" set "reviewedById" = ${personId}, "reviewedAt" = now() where "id" = ${id}`);
export const voidAnalysis = (
  execute: SqlExecutor,
  { id, personId, reason }: { id: number; personId: number; reason: string },
) =>
  execute(
    sql`update "analysis" set "voidedById" = ${personId}, "voidedAt" = now(), "voidReason" = ${reason} where "id" = ${id}`,
  );
/** What an analysis, or a record that it took the place of, answered: to be asked for again when it counts no more. */
export const readAnswered = (execute: SqlExecutor, analysisId: number) =>
  execute<{ why: AnalysisRequest['why']; components: string[]; additionId: number | null; note: string }>(sql`
    with recursive line("id") as (
      select ${analysisId}::int
      union select a."supersedesId" from "analysis" a join line on a."id" = line."id" where a."supersedesId" is not null)
    select "why", "components", "additionId", "note" from "bath_request"
     where "closedByAnalysisId" in (select "id" from line) order by "id"`);
