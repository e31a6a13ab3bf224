import type { Activity, Family } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

export interface Subject {
  activity: Activity;
  subjectId: number;
}

/**
 * The word that somebody may do one thing. A step is signed and a revision approved once; of a bath it counts for the analysis that comes
 * next, within a day.
 */
export const readOverride = async (
  execute: SqlExecutor,
  { activity, subjectId, personId }: Subject & { personId: number },
): Promise<{ by: string; reason: string } | null> =>
  (
    await execute<{ by: string; reason: string }>(sql`
      select o."snapshot" ->> 'grantedBy' as "by", o."reason" from "competence_override" o
       where o."activity" = ${activity} and o."personId" = ${personId}
         and coalesce(o."stepId", o."bathId", o."recipeRevisionId") = ${subjectId}
         and (o."bathId" is null or o."grantedAt" > now() - interval '1 day'
              and not exists (select from "analysis" a
                               where a."bathId" = o."bathId" and a."analystId" = o."personId" and a."enteredAt" > o."grantedAt"))
       order by o."id" desc limit 1`)
  )[0] ?? null;

export const addOverride = (
  execute: SqlExecutor,
  {
    activity,
    subjectId,
    ...word
  }: Subject & {
    family: Family | null;
    personId: number;
    reason: string;
    grantedById: number;
    askedById: number;
  },
) =>
  execute(sql`
    insert into "competence_override" ("activity", "family", "personId", "stepId", "bathId", "recipeRevisionId", "reason", "grantedById", "askedById")
    values (${activity}, ${word.family}::text, ${word.personId}, ${activity === 'sign' ? subjectId : null}::int,
      ${activity === 'analyse' ? subjectId : null}::int, ${activity === 'approve' ? subjectId : null}::int, ${word.reason},
      ${word.grantedById}, ${word.askedById})`);

/** What somebody does one thing on: its family of processes, and the record whose history keeps the word. */
export interface About {
  family: Family | null;
  kind: 'lot' | 'bath' | 'recipe';
  recordId: number;
  number: string;
  what: string;
}
export const readAbout = async (
  execute: SqlExecutor,
  { activity, subjectId }: Subject,
): Promise<About | null> => {
  const queries = {
    sign: sql`
      select r."family", 'lot' as "kind", l."id" as "recordId", l."number", concat('step ', s."position", ', ', s."title") as "what"
        from "traveler_step" s join "traveler" t on t."id" = s."travelerId" join "lot" l on l."id" = t."lotId"
        join "recipe_revision" v on v."id" = t."recipeRevisionId" join "recipe" r on r."id" = v."recipeId"
       where s."id" = ${subjectId}`,
    analyse: sql`
      select case when t."contents" in ('mild-salt', 'dilute-acid') then 'interference-colour'
                  when t."contents" = 'hot-caustic' then 'caustic-colour'
                  when t."contents" in ('sulfuric-anodize', 'dye', 'seal') then 'dyed-anodize' end as "family",
             'bath' as "kind", b."id" as "recordId", b."number", concat('the bath in ', t."code") as "what"
        from "bath" b join "tank" t on t."id" = b."tankId" where b."id" = ${subjectId}`,
    approve: sql`
      select r."family", 'recipe' as "kind", r."id" as "recordId", r."number", concat('revision ', v."revision") as "what"
        from "recipe_revision" v join "recipe" r on r."id" = v."recipeId" where v."id" = ${subjectId}`,
  };
  return (await execute<About>(queries[activity]))[0] ?? null;
};
