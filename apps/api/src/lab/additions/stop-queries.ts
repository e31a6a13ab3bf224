import { sql, type SqlExecutor } from '../../db/client.ts';
import { analysisCounts } from '../baths/index.ts';

interface Found {
  number: string;
  value: number;
  standardUncertainty: number | null;
  massFraction: number | null;
}

/** The last two analyses that found the strength of a bath since something was last added to it, newest first. */
export const readLastTwo = (execute: SqlExecutor, { bathId, solute }: { bathId: number; solute: string }) =>
  execute<Found>(sql`
    select a."number", r."value", r."standardUncertainty", r."massFraction"
      from "analysis_result" r join "analysis" a on a."id" = r."analysisId"
     where r."bathId" = ${bathId} and r."component" = ${solute} and ${analysisCounts(sql`a."id"`)}
       and r."sampledAt" >= coalesce((select max(x."finishedAt") from "addition" x where x."bathId" = ${bathId} and x."state" = 'done'), '-infinity')
     order by r."sampledAt" desc, r."id" desc limit 2`);

/** How strong a bath is as a share of its mass, as it was last found. */
export async function readStrengthShare(
  execute: SqlExecutor,
  { bathId, solute }: { bathId: number; solute: string },
): Promise<number | null> {
  const [row] = await execute<{ massFraction: number | null }>(sql`
    select r."massFraction" from "analysis_result" r
     where r."bathId" = ${bathId} and r."component" = ${solute} and ${analysisCounts(sql`r."analysisId"`)}
     order by r."sampledAt" desc, r."id" desc limit 1`);
  return row?.massFraction ?? null;
}

/** What the tank of a bath allows: its temperatures, and litres to the brim. */
export async function readTankLimits(
  execute: SqlExecutor,
  bathId: number,
): Promise<{ minC: number | null; maxC: number | null; brimL: number }> {
  const [row] = await execute<{ minC: number | null; maxC: number | null; brimL: number }>(sql`
    select t."temperatureMinC" as "minC", t."temperatureMaxC" as "maxC",
           (t."insideLengthMm"::float8 * t."insideWidthMm" * t."insideDepthMm" / 1e6) as "brimL"
      from "bath" b join "tank" t on t."id" = b."tankId" where b."id" = ${bathId}`);
  if (row === undefined) throw new Error(`bath ${bathId} has no tank`);
  return row;
}

/** What a sample says beside its results: the level that was read, and its density where that was found at one temperature. */
export async function readSample(execute: SqlExecutor, analysisId: number) {
  const [row] = await execute<{
    volumeL: number | null;
    densityKgPerM3: number | null;
    temperatureC: number | null;
  }>(sql`
    select "volumeL", "densityKgPerM3", ("readings" ->> 'temperatureC')::float8 as "temperatureC"
      from "analysis" where "id" = ${analysisId}`);
  return row ?? { volumeL: null, densityKgPerM3: null, temperatureC: null };
}
