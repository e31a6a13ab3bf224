import type { signStep, StepSetting, TankContents } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { isMonitored } from '../../lab/baths/index.ts';
import type { NamedInstrument } from '../../lab/instruments/index.ts';
import { standingCount } from './count-queries.ts';
import { standingDoneAt } from './done-queries.ts';

export type SignInput = z.output<typeof signStep.body>;

/** A reading beside the limits of its step. */
export type EvaluatedReading = SignInput['readings'][number] & {
  target: number | null;
  low: number | null;
  high: number | null;
  outside: boolean;
};

export interface StepRow {
  stepId: number;
  position: number;
  kind: string;
  title: string;
  contents: string | null;
  durationS: number;
  tankId: number | null;
  supplyId: number | null;
  hasSupply: boolean;
  settings: StepSetting[];
  record: string[];
  travelerId: number;
  travelerNumber: string;
  travelerRevision: number;
  travelerStatus: string;
  issuedAt: Date;
  lotId: number;
  lotNumber: string;
  held: boolean;
  holdReason: string | null;
  partId: number;
  materialId: number;
  /** As the lot was released with it. */
  alloy: { name: string; condition: string; baseMetal: string };
  recipeRevisionId: number;
  signedBy: string | null;
  /** The first unsigned step before this one. */
  waitsFor: number | null;
  /** Pieces that came off the step before, or that went into the first. */
  expectedCount: number;
  /** Pieces the traveler was issued for: no step gives out more. */
  travelerCount: number;
  /** When the step before was done; for the first, when the traveler was issued. */
  previousDoneAt: Date;
  inAt: Date | null;
  outAt: Date | null;
  isLast: boolean;
  now: Date;
}

/** A step with all that decides whether it may be signed. Locks its lot, so that two people at once take turns. */
export async function lockStep(execute: SqlExecutor, stepId: number): Promise<StepRow | null> {
  await execute(sql`
    select 1 from "lot" l join "traveler" t on t."lotId" = l."id" join "traveler_step" s on s."travelerId" = t."id"
     where s."id" = ${stepId} for update of l`);
  const [row] = await execute<StepRow>(sql`
    with signed as (
      select s."position", s."kind", s."carriedSignOffId", o."id" as "signOffId", ${standingCount('o', 'countOut')} as "countOut", ${standingDoneAt('o')} as "doneAt"
        from "traveler_step" me
        join "traveler_step" s on s."travelerId" = me."travelerId"
        left join "step_sign_off" o on o."id" = s."carriedSignOffId" or o."stepId" = s."id"
       where me."id" = ${stepId})
    select s."id" as "stepId", s."position", s."kind", s."title", s."contents", s."durationS", s."tankId", s."supplyId",
           s."electrical" is not null as "hasSupply", s."settings", s."record",
           t."id" as "travelerId", t."number" as "travelerNumber", t."revision" as "travelerRevision",
           t."status" as "travelerStatus", t."issuedAt", l."id" as "lotId", l."number" as "lotNumber", l."held",
           (select h."reason" from "lot_hold" h where h."lotId" = l."id" and h."releasedAt" is null order by h."id" limit 1) as "holdReason",
           l."partId", p."materialId", l."snapshot" -> 'part' -> 'material' as "alloy", t."recipeRevisionId",
           (select o."snapshot" ->> 'person' from "step_sign_off" o
             where o."stepId" = s."id" or o."id" = s."carriedSignOffId") as "signedBy",
           (select min(b."position") from signed b where b."position" < s."position" and b."signOffId" is null) as "waitsFor",
           coalesce((select b."countOut" from signed b where b."position" < s."position" and b."signOffId" is not null
                      order by b."position" desc limit 1), t."quantity") as "expectedCount",
           t."quantity" as "travelerCount",
           coalesce((select max(b."doneAt") from signed b where b."position" < s."position"), t."issuedAt") as "previousDoneAt",
           r."inAt", r."outAt",
           not exists (select 1 from signed b where b."position" > s."position") as "isLast",
           now() as "now"
      from "traveler_step" s
      join "traveler" t on t."id" = s."travelerId"
      join "lot" l on l."id" = t."lotId"
      join "part" p on p."id" = l."partId"
      left join "step_run" r on r."stepId" = s."id" and r."setBackAt" is null
     where s."id" = ${stepId}`);
  return row ?? null;
}

/** How the bath stood in which a step is signed, and whose word let it run. */
export interface SignedBath {
  state: string;
  reasons: string[];
  overrideReason: string | null;
  overrideById: number | null;
}

export async function readPlace(
  execute: SqlExecutor,
  { supplyId, tankId }: { tankId: number; supplyId: number | null },
) {
  const [row] = await execute<{
    code: string | null;
    contents: TankContents | null;
    needsBath: boolean;
    bathId: number | null;
    bathNumber: string | null;
    bathMadeUpAt: Date | null;
    bathIsJudged: boolean;
    /** The make-up that was planned of the bath and is not done: nothing stands in the tank. */
    makeUpToDo: string | null;
    supplyServesTank: boolean;
  }>(sql`
    select k."code", k."contents", coalesce(k."contents" not in ('air'), false) as "needsBath",
           b."id" as "bathId", b."number" as "bathNumber", b."madeUpAt" as "bathMadeUpAt",
           ${isMonitored} as "bathIsJudged",
           (select a."number" from "addition" a where a."bathId" = b."id" and a."kind" = 'make-up' and a."state" = 'planned' limit 1) as "makeUpToDo",
           exists (select 1 from "power_supply_tank" x where x."tankId" = k."id" and x."supplyId" = ${supplyId}::int) as "supplyServesTank"
      from (select 1) one left join "tank" k on k."id" = ${tankId} and k."archivedAt" is null
      left join "bath" b on b."tankId" = k."id" and b."dumpedAt" is null`);
  if (row === undefined) throw new Error('one row is always there');
  return row;
}

/** Writes the sign-off with its readings in one statement; returns its id. */
export async function addSignOff(
  execute: SqlExecutor,
  options: {
    step: StepRow;
    input: SignInput;
    doneAt: Date;
    clockDifferenceS: number;
    /** What was said to a step that was signed faster than it takes. */
    shortTime: { tookS: number; reason: string } | null;
    readings: readonly (EvaluatedReading & NamedInstrument)[];
    outside: boolean;
    personId: number;
    tankId: number | null;
    bathId: number | null;
    supplyId: number | null;
    bath: SignedBath | null;
  },
): Promise<number> {
  const { step, input, readings } = options;
  const [row] = await execute<{ id: number }>(sql`
    with signed as (
      insert into "step_sign_off" ("stepId", "lotId", "partId", "materialId", "recipeRevisionId", "stepKind", "personId", "doneAt",
        "tankId", "bathId", "supplyId", "countIn", "countOut", "rejectCount", "countDifference", "countReason",
        "outside", "reason", "note", "clockDifferenceS", "tookS", "shortTimeReason",
        "bathState", "bathReasons", "overrideReason", "overrideById")
      values (${step.stepId}, ${step.lotId}, ${step.partId}, ${step.materialId}, ${step.recipeRevisionId}, ${step.kind},
        ${options.personId}, ${options.doneAt}::timestamptz, ${options.tankId}::int, ${options.bathId}::int, ${options.supplyId}::int,
        ${input.countIn}, ${input.countOut}, ${input.rejectCount}, ${input.countDifference}, ${input.countReason},
        ${options.outside}, ${input.reason}, ${input.note}, ${options.clockDifferenceS}, ${options.shortTime?.tookS ?? null}::int,
        ${options.shortTime?.reason ?? ''},
        ${options.bath?.state ?? null}::text, ${options.bath?.reasons ?? []}::text[], ${options.bath?.overrideReason ?? null}::text,
        ${options.bath?.overrideById ?? null}::int)
      returning "id"),
    read as (
      insert into "step_reading" ("signOffId", "quantity", "value", "target", "low", "high", "outside", "instrument", "instrumentId",
        "instrumentFault")
      select signed."id", r."quantity", r."value", r."target", r."low", r."high", r."outside", r."instrument", r."instrumentId", r."instrumentFault"
        from signed, jsonb_to_recordset(${JSON.stringify(readings)}::jsonb)
          as r("quantity" text, "value" float8, "target" float8, "low" float8, "high" float8, "outside" boolean, "instrument" text,
               "instrumentId" int, "instrumentFault" text))
    select "id" from signed`);
  if (row === undefined) throw new Error('a sign-off was not written');
  return row.id;
}

/** A lot runs from its first signed step and is finished with its last; what a step rejects leaves it at once. */
export const setLotStatus = (
  execute: SqlExecutor,
  { last, rejectCount, lotId }: { lotId: number; last: boolean; rejectCount: number },
) =>
  execute(sql`
    update "lot" set "status" = ${last ? 'finished' : 'running'},
           "rejectedCount" = "rejectedCount" + ${rejectCount}, "version" = "version" + 1
     where "id" = ${lotId}`);

export const addHold = (
  execute: SqlExecutor,
  {
    lotId,
    reason,
    signOffId,
    placedById,
  }: { lotId: number; reason: string; signOffId: number | null; placedById: number },
) =>
  execute(sql`
    with held as (update "lot" set "held" = true, "version" = "version" + 1 where "id" = ${lotId} returning "id")
    insert into "lot_hold" ("lotId", "reason", "signOffId", "placedById")
    select "id", ${reason}, ${signOffId}::int, ${placedById} from held`);

/** The reading of a sign-off as it stands after corrections, with its traveler and lot. */
export async function lockReading(
  execute: SqlExecutor,
  { quantity, signOffId }: { signOffId: number; quantity: string },
) {
  const [row] = await execute<{
    lotId: number;
    lotNumber: string;
    position: number;
    title: string;
    travelerId: number;
    low: number | null;
    high: number | null;
    value: number | null;
  }>(sql`
    select l."id" as "lotId", l."number" as "lotNumber", s."position", s."title", s."travelerId", r."low", r."high",
           coalesce((select c."newValue" from "step_correction" c where c."signOffId" = o."id" and c."quantity" = ${quantity}
                      order by c."id" desc limit 1), r."value") as "value"
      from "step_sign_off" o
      join "traveler_step" s on s."id" = o."stepId"
      join "lot" l on l."id" = o."lotId"
      left join "step_reading" r on r."signOffId" = o."id" and r."quantity" = ${quantity}
     where o."id" = ${signOffId}
       for update of l`);
  return row ?? null;
}
export const addCorrection = (
  execute: SqlExecutor,
  {
    signOffId,
    quantity,
    oldValue,
    newValue,
    reason,
    correctedById,
  }: {
    signOffId: number;
    quantity: string;
    oldValue: number | null;
    newValue: number;
    reason: string;
    correctedById: number;
  },
) =>
  execute(sql`
    insert into "step_correction" ("signOffId", "quantity", "oldValue", "newValue", "reason", "correctedById")
    values (${signOffId}, ${quantity}, ${oldValue}::float8, ${newValue}, ${reason}, ${correctedById})`);
