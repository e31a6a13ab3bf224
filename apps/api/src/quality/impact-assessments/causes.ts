import type { AssessmentOffer, CauseKind } from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';

const zone = sql`(select "timeZone" from "shop" where "id" = 1)`;
const dayOf = (instant: Prisma.Sql) => sql`(${instant} at time zone ${zone})::date::text`;
const utc = (instant: Prisma.Sql) =>
  sql`to_char(${instant} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
const since = sql`(select "since" from "assessment_watch" where "id" = 1)`;
const componentsOf = (analysisId: Prisma.Sql) =>
  sql`(select string_agg(r."name", ', ' order by r."id") from "analysis_result" r where r."analysisId" = ${analysisId})`;

/**
 * Of a run of results beyond a stop limit the first. What was signed in the bath since its last result before that is touched: from then
 * on nobody knows when it left its limits.
 */
const bathStops = sql`
  select 'bath-stop' as "kind", a."id" as "key", min(a."enteredAt") as "at",
         concat(t."code", ', ', b."number", ': stopped by ', a."number") as "title",
         string_agg(concat(r."name", ' beyond its stop limit'), '; ' order by r."id") as "detail",
         'bath-' || b."id" as "about", ${dayOf(sql`coalesce(min(last."sampledAt"), b."madeUpAt")`)} as "from",
         ${dayOf(sql`a."sampledAt"`)} as "to", null::int as "lotId"
    from "analysis_result" r
    join "analysis" a on a."id" = r."analysisId" and a."voidedAt" is null
         and not exists (select from "analysis" n where n."supersedesId" = a."id")
    join "bath" b on b."id" = a."bathId"
    join "tank" t on t."id" = b."tankId"
    left join lateral (
      select p."sampledAt", p."state"
        from "analysis_result" p join "analysis" pa on pa."id" = p."analysisId" and pa."voidedAt" is null
             and not exists (select from "analysis" n where n."supersedesId" = pa."id")
       where p."bathId" = r."bathId" and p."component" = r."component" and p."sampledAt" < r."sampledAt"
       order by p."sampledAt" desc limit 1) last on true
   where r."state" = 'stop' and a."enteredAt" >= ${since} and last."state" is distinct from 'stop'
     and exists (select from "step_sign_off" s where s."tankId" = b."tankId" and s."bathId" = b."id"
                    and s."doneAt" >= coalesce(last."sampledAt", b."madeUpAt") and s."doneAt" <= a."sampledAt")
   group by a."id", b."id", t."id"`;

/**
 * An instrument that was out of its tolerance as it was found: since its last calibration that left it in order nobody knows what it read.
 * One that was written down wrongly and replaced calls for nothing; the one in its place may.
 */
const calibrationsFailed = sql`
  select 'calibration-failed' as "kind", c."id" as "key", c."recordedAt" as "at",
         concat(i."code", ' ', i."name", ' was out of tolerance as found') as "title",
         concat_ws('; ', concat('calibrated by ', c."doneBy"), nullif(c."note", '')) as "detail",
         'instrument-' || i."id" as "about", last."doneOn"::text as "from", c."doneOn"::text as "to", null::int as "lotId"
    from "instrument_calibration" c
    join "instrument" i on i."id" = c."instrumentId"
    left join lateral (
      select max(p."doneOn") as "doneOn" from "instrument_calibration" p
       where p."instrumentId" = c."instrumentId" and p."doneOn" < c."doneOn" and p."asLeft" = 'pass'
         and not exists (select from "instrument_calibration" n where n."replacesId" = p."id")) last on true
   where c."recordedAt" >= ${since} and (c."asFound" = 'fail' or c."asFound" is null and c."asLeft" = 'fail')
     and not exists (select from "instrument_calibration" n where n."replacesId" = c."id")`;

/** Whether a step was signed while an analysis was the newest of its bath: somebody went by it. */
const wentBy = (a: Prisma.Sql) => sql`
  exists (select from "step_sign_off" s join "bath" b on b."id" = ${a}."bathId" and b."tankId" = s."tankId"
           where s."bathId" = ${a}."bathId" and s."doneAt" >= ${a}."sampledAt")`;
const statesOf = (analysisId: Prisma.Sql) => sql`
  (select jsonb_object_agg(r."component", r."state") from "analysis_result" r where r."analysisId" = ${analysisId})`;

/** Voided, or corrected so that a component is judged another way. */
const analysesCorrected = sql`
  select 'analysis-corrected' as "kind", a."id" as "key", coalesce(n."enteredAt", a."voidedAt") as "at",
         concat(a."number", ' of ', b."number", case when n."id" is null then ' was voided' else ' was corrected by ' || n."number" end) as "title",
         concat(coalesce(n."supersedeReason", a."voidReason"), ' (', ${componentsOf(sql`a."id"`)}, ')') as "detail",
         'analysis-' || a."id" as "about", null::text as "from", null::text as "to", null::int as "lotId"
    from "analysis" a
    join "bath" b on b."id" = a."bathId"
    left join "analysis" n on n."supersedesId" = a."id"
   where a."id" = any(array(select "supersedesId" from "analysis" where "enteredAt" >= ${since} and "supersedesId" is not null
                            union select "id" from "analysis" where "voidedAt" >= ${since}))
     and (n."id" is null or ${statesOf(sql`n."id"`)} is distinct from ${statesOf(sql`a."id"`)})
     and ${wentBy(sql`a`)}`;

/** Pieces of the lot had left the house when it was corrected. */
const shippedBefore = (lotId: Prisma.Sql, instant: Prisma.Sql) =>
  sql`exists (select from "shipment" h where h."lotId" = ${lotId} and h."shippedAt" < ${instant})`;

/** A colour reading that is judged another way, or withdrawn, after pieces were shipped upon it. */
const coloursCorrected = sql`
  select 'colour-corrected' as "kind", r."id" as "key", n."readAt" as "at",
         concat('Colour reading of ', l."number", case when n."withdrawn" then ' was withdrawn' else ' was corrected' end, ' after it was shipped') as "title",
         n."reason" as "detail", null::text as "about", null::text as "from", null::text as "to", l."id" as "lotId"
    from "colour_reading" n
    join "colour_reading" r on r."id" = n."correctsId"
    join "lot" l on l."id" = r."lotId"
   where n."readAt" >= ${since} and n."verdict" is distinct from r."verdict" and ${shippedBefore(sql`l."id"`, sql`n."readAt"`)}`;

/** A signed reading whose right value is on the other side of its limits, put right after pieces were shipped upon it. */
const stepsCorrected = sql`
  select 'step-corrected' as "kind", c."id" as "key", c."correctedAt" as "at",
         concat('Reading of ', l."number", ' step ', st."position", ' was corrected after it was shipped') as "title",
         c."reason" as "detail", null::text as "about", null::text as "from", null::text as "to", l."id" as "lotId"
    from "step_correction" c
    join "step_sign_off" s on s."id" = c."signOffId"
    join "traveler_step" st on st."id" = s."stepId"
    join "lot" l on l."id" = s."lotId"
    join "step_reading" r on r."signOffId" = s."id" and r."quantity" = c."quantity"
   where c."correctedAt" >= ${since} and ${shippedBefore(sql`l."id"`, sql`c."correctedAt"`)}
     and (coalesce(c."newValue" < r."low", false) or coalesce(c."newValue" > r."high", false))
         <> (coalesce(coalesce(c."oldValue", r."value") < r."low", false) or coalesce(coalesce(c."oldValue", r."value") > r."high", false))`;

/** What calls for an assessment, kind by kind: one more kind is one more entry. */
const causes: Record<CauseKind, Prisma.Sql> = {
  'bath-stop': bathStops,
  'calibration-failed': calibrationsFailed,
  'analysis-corrected': analysesCorrected,
  'colour-corrected': coloursCorrected,
  'step-corrected': stepsCorrected,
};

/** What the record offers to assess and nobody has opened or dismissed; the oldest first. */
export const readOffers = (
  execute: SqlExecutor,
  only: { kind: CauseKind; key: number } | null = null,
): Promise<AssessmentOffer[]> =>
  execute<AssessmentOffer>(sql`
    select concat("kind", '-', "key") as "cause", "kind", "title", "detail", ${utc(sql`"at"`)} as "at", "about", "from", "to", "lotId"
      from (${only === null ? Prisma.join(Object.values(causes), ' union all ') : causes[only.kind]}) cause
     where ${only === null ? sql`true` : sql`"key" = ${only.key}`}
       and not exists (select from "impact_assessment" x where x."causeKind" = cause."kind" and x."causeId" = cause."key")
       and not exists (select from "assessment_dismissal" x where x."causeKind" = cause."kind" and x."causeId" = cause."key")
     order by cause."at", "key"`);
