import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';

/** A count of a sign-off as it stands after corrections; `signOff` is the alias of its row. */
export const standingCount = (signOff: string, count: 'countOut' | 'rejectCount'): Prisma.Sql => {
  const of = Prisma.raw(`"${signOff}"`);
  const column = Prisma.raw(`"${count}"`);
  return sql`coalesce((select x.${column} from "step_count_correction" x where x."signOffId" = ${of}."id" order by x."id" desc limit 1), ${of}.${column})`;
};

/** A sign-off with the counts that stand, and what keeps them from being corrected. Locks its lot. */
export async function lockCounts(execute: SqlExecutor, signOffId: number) {
  const [row] = await execute<{
    lotId: number;
    lotNumber: string;
    position: number;
    title: string;
    travelerId: number;
    travelerCount: number;
    countIn: number;
    countOut: number;
    rejectCount: number;
    /** A later step that is signed already. */
    laterPosition: number | null;
    isChecked: boolean;
  }>(sql`
    select l."id" as "lotId", l."number" as "lotNumber", s."position", s."title", s."travelerId", t."quantity" as "travelerCount",
           o."countIn", ${standingCount('o', 'countOut')} as "countOut", ${standingCount('o', 'rejectCount')} as "rejectCount",
           (select min(n."position") from "traveler" w join "traveler_step" n on n."travelerId" = w."id"
             where w."number" = t."number" and n."position" > s."position"
               and exists (select 1 from "step_sign_off" y where y."stepId" = n."id")) as "laterPosition",
           exists (select 1 from "final_check" f join "traveler" w on w."id" = f."travelerId" where w."number" = t."number") as "isChecked"
      from "step_sign_off" o
      join "traveler_step" s on s."id" = o."stepId"
      join "traveler" t on t."id" = s."travelerId"
      join "lot" l on l."id" = o."lotId"
     where o."id" = ${signOffId}
       for update of l`);
  return row ?? null;
}

export const addCountCorrection = (
  execute: SqlExecutor,
  {
    signOffId,
    countOut,
    rejectCount,
    countDifference,
    reason,
    correctedById,
  }: {
    signOffId: number;
    countOut: number;
    rejectCount: number;
    countDifference: number;
    reason: string;
    correctedById: number;
  },
) =>
  execute(sql`
    insert into "step_count_correction" ("signOffId", "countOut", "rejectCount", "countDifference", "reason", "correctedById")
    values (${signOffId}, ${countOut}, ${rejectCount}, ${countDifference}, ${reason}, ${correctedById})`);

/** What a step rejected leaves the lot, or comes back into it. */
export const moveRejected = (execute: SqlExecutor, { by, lotId }: { lotId: number; by: number }) =>
  execute(
    sql`update "lot" set "rejectedCount" = "rejectedCount" + ${by}, "version" = "version" + 1 where "id" = ${lotId}`,
  );

/** Corrections of the counts of a sign-off, as its page shows them. */
export const countCorrections = sql`(
  select coalesce(jsonb_agg(jsonb_build_object('id', c."id", 'countOut', c."countOut", 'rejectCount', c."rejectCount",
           'countDifference', c."countDifference", 'reason', c."reason", 'by', c."snapshot" -> 'correctedBy',
           'at', to_char(c."correctedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) order by c."id"), '[]'::jsonb)
    from "step_count_correction" c where c."signOffId" = s."id")`;
