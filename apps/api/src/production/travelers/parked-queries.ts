import type { ParkedSignOff } from '@huelot/contracts';
import type { Prisma } from '../../db/client.ts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import type { SignInput } from './sign-queries.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const parked = sql`
  select jsonb_build_object(
      'id', k."id", 'lot', jsonb_build_object('id', l."id", 'number', l."number"),
      'step', jsonb_build_object('id', st."id", 'position', st."position", 'title', st."title",
                'traveler', t."number", 'revision', t."revision"),
      'personId', k."personId", 'person', k."snapshot" -> 'person',
      'doneAt', ${instant(sql`k."doneAt"`)}, 'parkedAt', ${instant(sql`k."parkedAt"`)}, 'refusal', k."refusal",
      'countIn', k."body" -> 'countIn', 'countOut', k."body" -> 'countOut', 'rejectCount', k."body" -> 'rejectCount',
      'readings', k."body" -> 'readings', 'reason', k."body" -> 'reason', 'note', k."body" -> 'note',
      'decision', case when k."decision" is null then null else jsonb_build_object(
        'kind', k."decision", 'by', k."snapshot" -> 'decidedBy', 'at', ${instant(sql`k."decidedAt"`)}, 'reason', k."decisionReason") end
    ) as "parked"
    from "parked_sign_off" k
    join "traveler_step" st on st."id" = k."stepId"
    join "traveler" t on t."id" = st."travelerId"
    join "lot" l on l."id" = k."lotId"`;

const all = async (execute: SqlExecutor, where: Prisma.Sql): Promise<ParkedSignOff[]> =>
  (await execute<{ parked: ParkedSignOff }>(sql`${parked} ${where}`)).map((row) => row.parked);

export const readParked = async (execute: SqlExecutor, id: number) =>
  (await all(execute, sql`where k."id" = ${id}`))[0] ?? null;
/** What waits for quality, or all there ever was of one lot. */
export const listParked = (execute: SqlExecutor, { lotId }: { lotId?: number | undefined }) =>
  all(
    execute,
    lotId === undefined
      ? sql`where k."decision" is null order by k."id" limit 500`
      : sql`where k."lotId" = ${lotId} order by k."id" limit 500`,
  );

export async function addParked(
  execute: SqlExecutor,
  options: {
    stepId: number;
    lotId: number;
    personId: number;
    input: SignInput;
    doneAt: Date;
    clockDifferenceS: number;
    code: string;
    refusal: string;
  },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "parked_sign_off" ("stepId", "lotId", "personId", "body", "doneAt", "clockDifferenceS", "code", "refusal")
    values (${options.stepId}, ${options.lotId}, ${options.personId}, ${JSON.stringify(options.input)}::jsonb,
      ${options.doneAt}::timestamptz, ${options.clockDifferenceS}, ${options.code}, ${options.refusal})
    returning "id"`);
  if (row === undefined) throw new Error('a sign-off was not parked');
  return row.id;
}

export async function lockParked(execute: SqlExecutor, id: number) {
  const [row] = await execute<{
    id: number;
    stepId: number;
    lotId: number;
    lotNumber: string;
    personId: number;
    person: string;
    body: SignInput;
    doneAt: Date;
    clockDifferenceS: number;
    decision: string | null;
    position: number;
    title: string;
    /** The same step on the traveler that is current now. */
    currentStepId: number | null;
  }>(sql`
    select k."id", k."stepId", k."lotId", l."number" as "lotNumber", k."personId", k."snapshot" ->> 'person' as "person", k."body",
           k."doneAt", k."clockDifferenceS", k."decision", st."position", st."title",
           (select c."id" from "traveler_step" c join "traveler" t on t."id" = c."travelerId"
             where t."lotId" = k."lotId" and t."status" = 'issued' and c."position" = st."position"
               and c."kind" = st."kind" and c."title" = st."title") as "currentStepId"
      from "parked_sign_off" k
      join "traveler_step" st on st."id" = k."stepId"
      join "lot" l on l."id" = k."lotId"
     where k."id" = ${id} for update of k`);
  return row ?? null;
}

export const decideParked = (
  execute: SqlExecutor,
  options: { id: number; decision: string; decidedById: number; reason: string; signOffId: number | null },
) =>
  execute(sql`
    update "parked_sign_off"
       set "decision" = ${options.decision}, "decidedById" = ${options.decidedById}, "decidedAt" = now(),
           "decisionReason" = ${options.reason}, "signOffId" = ${options.signOffId}::int
     where "id" = ${options.id}`);
