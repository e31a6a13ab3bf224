import type { TraceHit } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type SqlExecutor } from '../../../apps/api/src/db/client.ts';
import { materialName, partName, targetOf } from '../../../apps/api/src/db/snapshots.ts';
import { standingCount, standsNotDone } from '../../../apps/api/src/production/travelers/index.ts';
import type { TraceAsked } from '../../../apps/api/src/workspace/trace/find-queries.ts';
import type { Range } from '../../../apps/api/src/workspace/trace/reading-queries.ts';

/*
 * The trace search as one statement that says what is meant and cares for nothing else: what the search of the service must
 * answer, however it finds it.
 */

/** A reading as it stands: the latest correction, or the figure that was signed. */
const standing = sql`
  coalesce((select c."newValue" from "step_correction" c where c."signOffId" = r."signOffId" and c."quantity" = r."quantity"
             order by c."id" desc limit 1), r."value")`;

const within = ({ quantity, min, max }: Range) => sql`
  and exists (
    select 1 from "step_reading" r
     where r."signOffId" = s."id" and r."quantity" = ${quantity}
       ${min === null ? Prisma.empty : sql`and ${standing} >= ${min}::float8`}
       ${max === null ? Prisma.empty : sql`and ${standing} <= ${max}::float8`})`;

const only = (column: Prisma.Sql, value: number | string | undefined) =>
  value === undefined ? Prisma.empty : sql`and ${column} = ${value}`;

/** Signed steps by their actual settings, newest first, one more than the page holds. */
export function searchPlainly(execute: SqlExecutor, filter: TraceAsked) {
  const { from, to, timeZone, after } = filter;
  return execute<z.input<typeof TraceHit>>(sql`
    select s."id" as "signOffId", l."id" as "lotId", l."number" as "lotNumber", t."frozen" -> 'customer' ->> 'name' as "customer",
           ${partName(sql`l."snapshot" -> 'part'`)} as "part", ${targetOf(sql`l."snapshot" -> 'part'`)} as "agreed",
           ${materialName(sql`l."snapshot" -> 'part'`)} as "material",
           concat_ws(' ', t."frozen" -> 'recipe' ->> 'number', t."frozen" -> 'recipe' ->> 'name', 'rev', t."frozen" -> 'recipe' ->> 'revision') as "recipe",
           t."number" as "travelerNumber", t."revision" as "travelerRevision", st."position", s."stepKind", st."title",
           s."snapshot" -> 'tank' ->> 'code' as "tank", s."snapshot" -> 'bath' ->> 'number' as "bath",
           s."snapshot" -> 'supply' ->> 'code' as "supply", s."snapshot" ->> 'person' as "person",
           to_char(s."doneAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "doneAt", ${standingCount('s', 'countOut')} as "countOut", s."outside",
           ${standsNotDone('s')} as "notDone",
           (select coalesce(jsonb_agg(jsonb_build_object('quantity', r."quantity", 'value', ${standing},
                     'corrected', exists (select 1 from "step_correction" c where c."signOffId" = r."signOffId" and c."quantity" = r."quantity"))
                     order by r."id"), '[]'::jsonb)
              from "step_reading" r where r."signOffId" = s."id") as "readings"
      from "step_sign_off" s
      join "traveler_step" st on st."id" = s."stepId"
      join "traveler" t on t."id" = st."travelerId"
      join "lot" l on l."id" = s."lotId"
      join "part" p on p."id" = s."partId"
      join "recipe_revision" rr on rr."id" = s."recipeRevisionId"
     where true
       ${only(sql`s."partId"`, filter.partId)} ${only(sql`p."customerId"`, filter.customerId)}
       ${only(sql`s."materialId"`, filter.materialId)} ${only(sql`rr."recipeId"`, filter.recipeId)}
       ${only(sql`s."tankId"`, filter.tankId)} ${only(sql`s."bathId"`, filter.bathId)}
       ${only(sql`s."supplyId"`, filter.supplyId)} ${only(sql`s."personId"`, filter.personId)}
       ${only(sql`s."stepKind"`, filter.stepKind)}
       ${filter.outside === undefined ? Prisma.empty : sql`and s."outside" = ${filter.outside === 'yes'}`}
       ${from === undefined ? Prisma.empty : sql`and s."doneAt" >= (${from}::date)::timestamp at time zone ${timeZone}`}
       ${to === undefined ? Prisma.empty : sql`and s."doneAt" < ((${to}::date) + 1)::timestamp at time zone ${timeZone}`}
       ${filter.ranges.length === 0 ? Prisma.empty : Prisma.join(filter.ranges.map(within), ' ')}
       ${after === null ? Prisma.empty : sql`and (s."doneAt", s."id") < (${after.doneAt}::timestamptz, ${after.id}::int)`}
     order by s."doneAt" desc, s."id" desc
     limit ${filter.limit + 1}`);
}
