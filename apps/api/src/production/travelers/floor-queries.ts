import type { StepDraft, StepOverride } from '@huelot/contracts';
import type { Prisma } from '../../db/client.ts';
import { sql, type SqlExecutor } from '../../db/client.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

/** In and Out of a step `st`, as one JSON value. */
export const runOfStep = sql`(
  select jsonb_build_object('inAt', ${instant(sql`sr."inAt"`)}, 'inBy', sr."snapshot" -> 'inBy',
           'outAt', ${instant(sql`sr."outAt"`)}, 'outBy', sr."snapshot" -> 'outBy')
    from "step_run" sr
   where sr."stepId" = st."id" and sr."setBackAt" is null)`;

/** What is typed at a step `st` and not signed yet. */
export const draftsOfStep = sql`(
  select coalesce(jsonb_agg(jsonb_build_object('personId', d."personId", 'person', dp."displayName",
           'keptAt', ${instant(sql`d."keptAt"`)}, 'draft', d."body") order by d."keptAt" desc), '[]'::jsonb)
    from "step_draft" d join "person" dp on dp."id" = d."personId"
   where d."stepId" = st."id")`;

const overrideJson = sql`
  jsonb_build_object('id', so."id", 'by', so."snapshot" -> 'grantedBy', 'reason', so."reason", 'state', so."bathState",
    'expiresAt', ${instant(sql`so."expiresAt"`)})`;

/** The override of a step `st` that can still be used. */
export const overrideOfStep = sql`(
  select ${overrideJson} from "step_override" so
   where so."stepId" = st."id" and so."signOffId" is null and so."expiresAt" > now()
   order by so."id" desc limit 1)`;

/** How a sign-off `s` came about: quality took it as done before the hold. */
export const acceptedOfSignOff = sql`(
  select jsonb_build_object('by', pk."snapshot" -> 'decidedBy', 'at', ${instant(sql`pk."decidedAt"`)}, 'reason', pk."decisionReason")
    from "parked_sign_off" pk
   where pk."signOffId" = s."id")`;

export const readRun = async (execute: SqlExecutor, stepId: number) =>
  (
    await execute<{ id: number; inAt: Date; outAt: Date | null }>(
      sql`select "id", "inAt", "outAt" from "step_run" where "stepId" = ${stepId} and "setBackAt" is null`,
    )
  )[0] ?? null;

export const addRun = (
  execute: SqlExecutor,
  { stepId, agoS, personId }: { stepId: number; agoS: number; personId: number },
) =>
  execute(sql`
    insert into "step_run" ("stepId", "inAt", "inById")
    values (${stepId}, now() - make_interval(secs => ${agoS}), ${personId})`);

export const endRun = (
  execute: SqlExecutor,
  { id, agoS, personId }: { id: number; agoS: number; personId: number },
) =>
  execute(sql`
    update "step_run"
       set "outAt" = greatest("inAt", now() - make_interval(secs => ${agoS})), "outById" = ${personId}
     where "id" = ${id}`);

export const setRunBack = (execute: SqlExecutor, { id, personId }: { id: number; personId: number }) =>
  execute(sql`update "step_run" set "setBackAt" = now(), "setBackById" = ${personId} where "id" = ${id}`);

export const keepDraft = (
  execute: SqlExecutor,
  { stepId, personId, draft }: { stepId: number; personId: number; draft: StepDraft },
) =>
  execute(sql`
    insert into "step_draft" ("stepId", "personId", "body")
    select st."id", ${personId}, ${JSON.stringify(draft)}::jsonb from "traveler_step" st
     where st."id" = ${stepId} and not exists (select 1 from "step_sign_off" o where o."stepId" = st."id")
    on conflict ("stepId", "personId") do update set "body" = excluded."body", "keptAt" = now()`);

export const dropDrafts = (execute: SqlExecutor, stepId: number) =>
  execute(sql`delete from "step_draft" where "stepId" = ${stepId}`);

export async function addOverride(
  execute: SqlExecutor,
  options: {
    stepId: number;
    bathId: number;
    bathState: string;
    reason: string;
    grantedById: number;
    askedById: number;
    validS: number;
  },
): Promise<StepOverride> {
  const [row] = await execute<{ override: StepOverride }>(sql`
    with so as (
      insert into "step_override" ("stepId", "bathId", "bathState", "reason", "grantedById", "askedById", "expiresAt")
      values (${options.stepId}, ${options.bathId}, ${options.bathState}, ${options.reason}, ${options.grantedById},
        ${options.askedById}, now() + make_interval(secs => ${options.validS}))
      returning *)
    select ${overrideJson} as "override" from so`);
  if (row === undefined) throw new Error('an override was not written');
  return row.override;
}

/** An override with what it is bound to; locked, so that it is used once. */
export async function lockOverride(execute: SqlExecutor, id: number) {
  const [row] = await execute<{
    id: number;
    stepId: number;
    bathId: number;
    bathState: string;
    reason: string;
    grantedById: number;
    grantedBy: string;
    active: boolean;
    roles: string[];
    expiresAt: Date;
    signOffId: number | null;
  }>(sql`
    select so."id", so."stepId", so."bathId", so."bathState", so."reason", so."grantedById", so."expiresAt", so."signOffId",
           p."displayName" as "grantedBy", p."active", p."roles"
      from "step_override" so join "person" p on p."id" = so."grantedById"
     where so."id" = ${id} for update of so`);
  return row ?? null;
}
export const useOverride = (execute: SqlExecutor, { id, signOffId }: { id: number; signOffId: number }) =>
  execute(sql`update "step_override" set "signOffId" = ${signOffId} where "id" = ${id}`);
