import type {
  AnalysisReadings,
  AnalysisReason,
  AnalysisResult,
  Limits,
  NewAnalysis,
} from '@huelot/contracts';
import { sql, type Run } from '../../db/client.ts';

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

/** Writes an analysis with its results in one statement; returns its key. */
export async function addAnalysis(run: Run, row: NewRow, results: readonly NewResult[]): Promise<number> {
  const [added] = await run<{ id: number }>(sql`
    with added as (
      insert into "analysis" ("number", "bathId", "methodId", "sampledAt", "analysedAt", "analystId", "analystName", "why",
        "samplePoint", "volumeL", "agitation", "bathTemperatureC", "readings", "standardisationId", "instrumentId",
        "setupRevision", "densityKgPerM3", "questions", "flags", "answer", "notes", "calcVersion", "supersedesId", "supersedeReason",
        "outsideLaboratory", "outsideReport", "outsideReportedOn", "outsideFileId")
      values (${row.number}, ${row.bathId}, ${row.methodId}, ${row.sampledAt}, ${row.analysedAt}, ${row.analystId},
        ${row.analystName}::text, ${row.why}, ${row.samplePoint}, ${row.volumeL}::float8, ${row.agitation}::boolean,
        ${row.bathTemperatureC}::float8, ${JSON.stringify(row.readings)}::jsonb, ${row.standardisationId}::int,
        ${row.instrumentId}::int, ${row.setupRevision}::int, ${row.densityKgPerM3}::float8, ${row.questions}, ${row.flags},
        ${row.answer}, ${row.notes}, ${row.calcVersion}, ${row.supersedesId}::int, ${row.supersedeReason}::text,
        ${row.outside?.laboratory ?? null}::text, ${row.outside?.reportNumber ?? null}::text,
        ${row.outside?.reportedOn ?? null}::date, ${row.outside?.fileId ?? null}::int)
      returning "id", "bathId", "sampledAt"),
    found as (
      insert into "analysis_result" ("analysisId", "bathId", "sampledAt", "component", "name", "value", "standardUncertainty",
        "unit", "referenceTemperatureC", "massFraction", "gramsPerLitre", "spread", "target", "low", "high", "stopLow", "stopHigh", "state")
      select a."id", a."bathId", a."sampledAt", r."component", r."name", r."value", r."standardUncertainty", r."unit",
             r."referenceTemperatureC", r."massFraction", r."gramsPerLitre", r."spread", r."target", r."low", r."high",
             r."stopLow", r."stopHigh", r."state"
        from added a, jsonb_to_recordset(${JSON.stringify(results)}::jsonb) as r("component" text, "name" text, "value" float8,
          "standardUncertainty" float8, "unit" text, "referenceTemperatureC" float8, "massFraction" float8, "gramsPerLitre" float8,
          "spread" float8, "target" float8, "low" float8, "high" float8, "stopLow" float8, "stopHigh" float8, "state" text))
    select "id" from added`);
  if (added === undefined) throw new Error('an analysis was not written');
  return added.id;
}

export const reviewAnalysis = (run: Run, of: { id: number; personId: number }) =>
  run(sql`update "analysis" set "reviewedById" = ${of.personId}, "reviewedAt" = now() where "id" = ${of.id}`);
