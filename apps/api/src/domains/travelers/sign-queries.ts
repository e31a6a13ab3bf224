import type { signStep, StepSetting } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, type Run } from '../../db/client.ts';
import { isJudged } from '../baths/index.ts';

/** A reading beside the limits of its step. */
export type Judged = z.output<typeof signStep.body>['readings'][number] & {
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
  recipeRevisionId: number;
  signedBy: string | null;
  /** The first unsigned step before this one. */
  waitsFor: number | null;
  /** Pieces that came off the step before, or that went into the first. */
  expectedCount: number;
  isLast: boolean;
  now: Date;
}

/** A step with all that decides whether it may be signed. Locks its lot, so that two people at once take turns. */
export async function lockStep(run: Run, stepId: number): Promise<StepRow | null> {
  await run(sql`
    select 1 from "lot" l join "traveler" t on t."lotId" = l."id" join "traveler_step" s on s."travelerId" = t."id"
     where s."id" = ${stepId} for update of l`);
  const [row] = await run<StepRow>(sql`
    with signed as (
      select s."position", s."kind", s."carriedSignOffId", o."id" as "signOffId", o."countOut"
        from "traveler_step" me
        join "traveler_step" s on s."travelerId" = me."travelerId"
        left join "step_sign_off" o on o."id" = s."carriedSignOffId" or o."stepId" = s."id"
       where me."id" = ${stepId})
    select s."id" as "stepId", s."position", s."kind", s."title", s."contents", s."tankId", s."supplyId",
           s."electrical" is not null as "hasSupply", s."settings", s."record",
           t."id" as "travelerId", t."number" as "travelerNumber", t."revision" as "travelerRevision",
           t."status" as "travelerStatus", t."issuedAt", l."id" as "lotId", l."number" as "lotNumber", l."held",
           (select h."reason" from "lot_hold" h where h."lotId" = l."id" and h."releasedAt" is null order by h."id" limit 1) as "holdReason",
           l."partId", p."materialId", t."recipeRevisionId",
           (select pe."displayName" from "step_sign_off" o join "person" pe on pe."id" = o."personId"
             where o."stepId" = s."id" or o."id" = s."carriedSignOffId") as "signedBy",
           (select min(b."position") from signed b where b."position" < s."position" and b."signOffId" is null) as "waitsFor",
           coalesce((select b."countOut" from signed b where b."position" < s."position" and b."signOffId" is not null
                      order by b."position" desc limit 1), t."quantity") as "expectedCount",
           not exists (select 1 from signed b where b."position" > s."position") as "isLast",
           now() as "now"
      from "traveler_step" s
      join "traveler" t on t."id" = s."travelerId"
      join "lot" l on l."id" = t."lotId"
      join "part" p on p."id" = l."partId"
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

export async function readPlace(run: Run, of: { tankId: number; supplyId: number | null }) {
  const [row] = await run<{
    code: string | null;
    contents: string | null;
    needsBath: boolean;
    bathId: number | null;
    bathMadeUpAt: Date | null;
    bathIsJudged: boolean;
    supplyServesTank: boolean;
  }>(sql`
    select k."code", k."contents", coalesce(k."contents" not in ('air'), false) as "needsBath",
           b."id" as "bathId", b."madeUpAt" as "bathMadeUpAt",
           ${isJudged} as "bathIsJudged",
           exists (select 1 from "power_supply_tank" x where x."tankId" = k."id" and x."supplyId" = ${of.supplyId}::int) as "supplyServesTank"
      from (select 1) one left join "tank" k on k."id" = ${of.tankId} and k."archivedAt" is null
      left join "bath" b on b."tankId" = k."id" and b."dumpedAt" is null`);
  if (row === undefined) throw new Error('one row is always there');
  return row;
}

/** Writes the sign-off with its readings in one statement; returns its id. */
export async function addSignOff(
  run: Run,
  of: {
    step: StepRow;
    input: z.output<typeof signStep.body>;
    readings: Judged[];
    outside: boolean;
    personId: number;
    tankId: number | null;
    bathId: number | null;
    supplyId: number | null;
    bath: SignedBath | null;
  },
): Promise<number> {
  const { step, input, readings } = of;
  const [row] = await run<{ id: number }>(sql`
    with signed as (
      insert into "step_sign_off" ("stepId", "lotId", "partId", "materialId", "recipeRevisionId", "stepKind", "personId", "doneAt",
        "tankId", "bathId", "supplyId", "countIn", "countOut", "rejectCount", "outside", "reason", "note",
        "bathState", "bathReasons", "overrideReason", "overrideById")
      values (${step.stepId}, ${step.lotId}, ${step.partId}, ${step.materialId}, ${step.recipeRevisionId}, ${step.kind},
        ${of.personId}, ${input.doneAt}::timestamptz, ${of.tankId}::int, ${of.bathId}::int, ${of.supplyId}::int,
        ${input.countIn}, ${input.countOut}, ${input.rejectCount}, ${of.outside}, ${input.reason}, ${input.note},
        ${of.bath?.state ?? null}::text, ${of.bath?.reasons ?? []}::text[], ${of.bath?.overrideReason ?? null}::text,
        ${of.bath?.overrideById ?? null}::int)
      returning "id"),
    read as (
      insert into "step_reading" ("signOffId", "quantity", "value", "target", "low", "high", "outside", "instrument")
      select signed."id", r."quantity", r."value", r."target", r."low", r."high", r."outside", r."instrument"
        from signed, jsonb_to_recordset(${JSON.stringify(readings)}::jsonb)
          as r("quantity" text, "value" float8, "target" float8, "low" float8, "high" float8, "outside" boolean, "instrument" text))
    select "id" from signed`);
  if (row === undefined) throw new Error('a sign-off was not written');
  return row.id;
}

/** A lot runs from its first signed step and is finished with its last. */
export const moveLot = (run: Run, of: { lotId: number; last: boolean }) =>
  run(sql`
    update "lot" set "status" = ${of.last ? 'finished' : 'running'}, "version" = "version" + 1
     where "id" = ${of.lotId}`);

export const addHold = (
  run: Run,
  of: { lotId: number; reason: string; signOffId: number | null; placedById: number },
) =>
  run(sql`
    with held as (update "lot" set "held" = true, "version" = "version" + 1 where "id" = ${of.lotId} returning "id")
    insert into "lot_hold" ("lotId", "reason", "signOffId", "placedById")
    select "id", ${of.reason}, ${of.signOffId}::int, ${of.placedById} from held`);

/** The reading of a sign-off as it stands after corrections, with its traveler and lot. */
export async function lockReading(run: Run, of: { signOffId: number; quantity: string }) {
  const [row] = await run<{
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
           coalesce((select c."newValue" from "step_correction" c where c."signOffId" = o."id" and c."quantity" = ${of.quantity}
                      order by c."id" desc limit 1), r."value") as "value"
      from "step_sign_off" o
      join "traveler_step" s on s."id" = o."stepId"
      join "lot" l on l."id" = o."lotId"
      left join "step_reading" r on r."signOffId" = o."id" and r."quantity" = ${of.quantity}
     where o."id" = ${of.signOffId}
       for update of l`);
  return row ?? null;
}
export const addCorrection = (
  run: Run,
  of: {
    signOffId: number;
    quantity: string;
    oldValue: number | null;
    newValue: number;
    reason: string;
    correctedById: number;
  },
) =>
  run(sql`
    insert into "step_correction" ("signOffId", "quantity", "oldValue", "newValue", "reason", "correctedById")
    values (${of.signOffId}, ${of.quantity}, ${of.oldValue}::float8, ${of.newValue}, ${of.reason}, ${of.correctedById})`);
