import type { BathState, TrialPiece, TrialPlan, TrialReading, TrialRunItem } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

/** What happened at the tank, as it is stored. */
export interface TrialEventRow {
  id: number;
  kind: 'in' | 'lift' | 'pause' | 'resume' | 'reading' | 'out' | 'reset' | 'override';
  at: Date;
  by: string;
  temperatureC: number | null;
  voltageV: number | null;
  currentA: number | null;
  pH: number | null;
  supplyOff: boolean | null;
  bathId: number | null;
  bathState: string | null;
  reason: string;
}

export interface RunRow extends Omit<TrialRunItem, 'plannedAt' | 'signedAt' | 'inAt'> {
  plannedAt: Date;
  signedAt: Date | null;
  inAt: Date | null;
  component: string;
  unit: 'massFraction' | 'gramsPerLitre' | 'molPerLitre';
  referenceTemperatureC: number | null;
  bath: { id: number; number: string } | null;
  bathState: BathState | null;
  bathReasons: string[];
  strength: number | null;
  analysis: { id: number; number: string; sampledAt: Date } | null;
  areaMm2: number | null;
  reason: string;
  note: string;
  withdrawnBy: string | null;
  withdrawnAt: Date | null;
  withdrawReason: string;
  draft: { id: number; revision: number } | null;
  landedIn: { id: number; revision: number } | null;
}
const run = sql`
  select r."id", r."number", r."state", r."seriesCode", r."contents", r."kind", r."pieces", r."coatingThicknessUm", r."temperatureC",
         r."voltageV", r."timeS", r."intervalS", r."stepMm", r."instructions", r."plannedAt", r."signedAt", r."version",
         r."component", r."unit", r."referenceTemperatureC", r."bathState", r."bathReasons", r."strength", r."areaMm2", r."reason", r."note",
         r."withdrawnAt", r."withdrawReason",
         r."snapshot" -> 'material' as "material", r."snapshot" -> 'tank' as "tank", r."snapshot" -> 'supply' as "supply",
         r."snapshot" ->> 'plannedBy' as "plannedBy", r."snapshot" ->> 'signedBy' as "signedBy",
         r."snapshot" ->> 'withdrawnBy' as "withdrawnBy",
         coalesce(r."snapshot" -> 'bath', (select jsonb_build_object('id', b."id", 'number', b."number") from "bath" b where b."id" = r."bathId")) as "bath",
         (select jsonb_build_object('id', a."id", 'number', a."number", 'sampledAt', a."sampledAt") from "analysis" a where a."id" = r."analysisId") as "analysis",
         (select min(e."at") from "trial_event" e where e."runId" = r."id" and e."kind" = 'in' and e."id" > coalesce(
            (select max(x."id") from "trial_event" x where x."runId" = r."id" and x."kind" = 'reset'), 0)) as "inAt",
         (select jsonb_build_object('id', s."id", 'revision', s."revision") from "coupon_series" s
           where s."code" = r."seriesCode" and s."status" = 'draft' and s."contents" = r."contents" and s."materialId" = r."materialId") as "draft",
         (select jsonb_build_object('id', s."id", 'revision', s."revision") from "coupon_series" s
           where exists (select from "coupon_trial" c where c."seriesId" = s."id" and c."runId" = r."id")
           order by s."revision" limit 1) as "landedIn"
    from "trial_run" r`;

export const readRun = async (execute: SqlExecutor, id: number): Promise<RunRow | null> =>
  (await execute<RunRow>(sql`${run} where r."id" = ${id}`))[0] ?? null;
export const lockRun = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "trial_run" where "id" = ${id} for update`);

export const readRuns = (
  execute: SqlExecutor,
  asked: {
    state?: 'open' | 'finished' | 'all' | undefined;
    tankId?: number | undefined;
    seriesCode?: string | undefined;
    search?: string | undefined;
    after: number | null;
    limit: number;
  },
) => {
  const { state = 'open', tankId, seriesCode, search, after, limit } = asked;
  return execute<RunRow>(sql`
    ${run} where true
      ${state === 'all' ? Prisma.empty : state === 'open' ? sql`and r."state" in ('planned', 'running')` : sql`and r."state" in ('signed', 'withdrawn')`}
      ${tankId === undefined ? Prisma.empty : sql`and r."tankId" = ${tankId}`}
      ${seriesCode === undefined ? Prisma.empty : sql`and r."seriesCode" = ${seriesCode}`}
      ${search ? sql`and (r."number" || ' ' || r."seriesCode" || ' ' || (r."snapshot" -> 'material' ->> 'name') || ' ' || (r."snapshot" -> 'tank' ->> 'code')) ilike ${containing(search)}` : Prisma.empty}
      ${after === null ? Prisma.empty : sql`and r."id" < ${after}::int`}
     order by r."id" desc limit ${limit + 1}`);
};

export const readEvents = (execute: SqlExecutor, runId: number) =>
  execute<TrialEventRow>(sql`
    select "id", "kind", "at", "snapshot" ->> 'person' as "by", "temperatureC", "voltageV", "currentA", "pH", "supplyOff",
           "bathId", "bathState", "reason"
      from "trial_event" where "runId" = ${runId} order by "id"`);
export const readPieces = (execute: SqlExecutor, runId: number) =>
  execute<TrialPiece>(sql`
    select "position", "coatingThicknessUm", "temperatureC", "voltageV", "timeS", "strength", "pH", "currentDensityAPerM2"
      from "trial_piece" where "runId" = ${runId} order by "position"`);

type Planned = Omit<TrialPlan, 'seriesId'> & {
  number: string;
  seriesCode: string;
  materialId: number;
  contents: string;
  component: string;
  unit: string;
  referenceTemperatureC: number | null;
  plannedById: number;
};
export const addRun = (db: Queryable, data: Planned) =>
  db.prisma.trialRun.create({ data, select: { id: true } });

/** Never before what was stamped last: the clock of a tablet that was away may lag. */
export const addEvent = (
  execute: SqlExecutor,
  event: {
    runId: number;
    kind: TrialEventRow['kind'];
    agoS?: number;
    personId: number;
    reading?: TrialReading;
    supplyOff?: boolean;
    bath?: { id: number; state: string };
    reason?: string;
  },
) => {
  const { runId, kind, agoS = 0, personId, reading, supplyOff = null, bath, reason = '' } = event;
  return execute(sql`
    insert into "trial_event" ("runId", "kind", "at", "personId", "temperatureC", "voltageV", "currentA", "pH", "supplyOff",
      "bathId", "bathState", "reason")
    select ${runId}, ${kind}, greatest(now() - make_interval(secs => ${agoS}), max(e."at")), ${personId},
           ${reading?.temperatureC ?? null}::float8, ${reading?.voltageV ?? null}::float8, ${reading?.currentA ?? null}::float8,
           ${reading?.pH ?? null}::float8, ${supplyOff}::boolean, ${bath?.id ?? null}::int, ${bath?.state ?? null}::text, ${reason}
      from (select 1) one left join "trial_event" e on e."runId" = ${runId} and e."kind" <> 'override'`);
};

export const startRun = (
  execute: SqlExecutor,
  facts: {
    id: number;
    bathId: number;
    bathState: string;
    bathReasons: string[];
    strength: number;
    analysisId: number;
  },
) =>
  execute(sql`
    update "trial_run" set "state" = 'running', "bathId" = ${facts.bathId}, "bathState" = ${facts.bathState},
           "bathReasons" = ${facts.bathReasons}::text[], "strength" = ${facts.strength}, "analysisId" = ${facts.analysisId},
           "version" = "version" + 1
     where "id" = ${facts.id}`);
export const setPlanned = (execute: SqlExecutor, id: number) =>
  execute(sql`update "trial_run" set "state" = 'planned', "version" = "version" + 1 where "id" = ${id}`);
export const bumpRun = (execute: SqlExecutor, id: number) =>
  execute(sql`update "trial_run" set "version" = "version" + 1 where "id" = ${id}`);

export const addPieces = (db: Queryable, runId: number, pieces: readonly TrialPiece[]) =>
  db.prisma.trialPiece.createMany({ data: pieces.map((piece) => ({ ...piece, runId })) });
export const signRun = (
  execute: SqlExecutor,
  facts: { id: number; personId: number; areaMm2: number | null; reason: string; note: string },
) =>
  execute(sql`
    update "trial_run" set "state" = 'signed', "signedById" = ${facts.personId}, "signedAt" = now(), "areaMm2" = ${facts.areaMm2}::float8,
           "reason" = ${facts.reason}, "note" = ${facts.note}, "version" = "version" + 1
     where "id" = ${facts.id}`);
export const withdrawRun = (execute: SqlExecutor, facts: { id: number; personId: number; reason: string }) =>
  execute(sql`
    update "trial_run" set "state" = 'withdrawn', "withdrawnById" = ${facts.personId}, "withdrawnAt" = now(),
           "withdrawReason" = ${facts.reason}, "version" = "version" + 1
     where "id" = ${facts.id}`);
