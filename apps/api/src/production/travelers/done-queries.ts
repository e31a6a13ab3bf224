import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

/** Whether a sign-off stands as not done; `signOff` is the alias of its row. */
export const standsNotDone = (signOff: string): Prisma.Sql =>
  sql`coalesce((select x."doneAt" is null from "step_done_correction" x
                 where x."signOffId" = ${Prisma.raw(`"${signOff}"`)}."id" order by x."id" desc limit 1), false)`;

/** When a signed step was done after corrections; the signature itself where it was not done. */
export const standingDoneAt = (signOff: string): Prisma.Sql => {
  const row = Prisma.raw(`"${signOff}"`);
  return sql`coalesce((select x."doneAt" from "step_done_correction" x where x."signOffId" = ${row}."id" order by x."id" desc limit 1), ${row}."doneAt")`;
};

/** A sign-off with what stands of it. Locks its lot. */
export async function lockDone(execute: SqlExecutor, signOffId: number) {
  const [row] = await execute<{
    lotId: number;
    lotNumber: string;
    position: number;
    title: string;
    travelerId: number;
    issuedAt: Date;
    doneAt: Date;
    isNotDone: boolean;
    now: Date;
  }>(sql`
    select l."id" as "lotId", l."number" as "lotNumber", s."position", s."title", s."travelerId", t."issuedAt",
           ${standingDoneAt('o')} as "doneAt", ${standsNotDone('o')} as "isNotDone", now() as "now"
      from "step_sign_off" o
      join "traveler_step" s on s."id" = o."stepId"
      join "traveler" t on t."id" = s."travelerId"
      join "lot" l on l."id" = o."lotId"
     where o."id" = ${signOffId}
       for update of l`);
  return row ?? null;
}

export const addDoneCorrection = (
  execute: SqlExecutor,
  options: { signOffId: number; doneAt: Date | null; reason: string; correctedById: number },
) =>
  execute(sql`
    insert into "step_done_correction" ("signOffId", "doneAt", "reason", "correctedById")
    values (${options.signOffId}, ${options.doneAt}::timestamptz, ${options.reason}, ${options.correctedById})`);

/** Corrections of whether and when the step of a sign-off `s` was done, as its page shows them. */
export const doneCorrections = sql`(
  select coalesce(jsonb_agg(jsonb_build_object('id', c."id", 'doneAt', ${instant(sql`c."doneAt"`)}, 'reason', c."reason",
           'by', c."snapshot" -> 'correctedBy', 'at', ${instant(sql`c."correctedAt"`)}) order by c."id"), '[]'::jsonb)
    from "step_done_correction" c where c."signOffId" = s."id")`;
