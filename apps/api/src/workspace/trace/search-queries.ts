import type { TraceHit } from '@huelot/contracts';
import type { z } from 'zod';
import { type Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { materialName, partName, targetOf } from '../../db/snapshots.ts';
import { standingCount, standsNotDone } from '../../production/travelers/index.ts';
import { standing } from './reading-queries.ts';

/** Signed steps by their keys, as the search shows them, newest first. Planned once: it is the same for every search. */
export const readHits = async (execute: SqlExecutor, signOffIds: readonly number[]) =>
  signOffIds.length === 0
    ? []
    : execute<z.input<typeof TraceHit>>(sql`
    select s."id" as "signOffId", l."id" as "lotId", l."number" as "lotNumber", t."frozen" -> 'customer' ->> 'name' as "customer",
           ${partName(sql`p."part"`)} as "part", ${targetOf(sql`p."part"`)} as "agreed", ${materialName(sql`p."part"`)} as "material",
           concat_ws(' ', p."recipe" ->> 'number', p."recipe" ->> 'name', 'rev', p."recipe" ->> 'revision') as "recipe",
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
      -- Taken out once: each look into a long document reads all of it.
      cross join lateral (select l."snapshot" -> 'part' as "part", t."frozen" -> 'recipe' as "recipe" offset 0) p
     where s."id" = any(${[...signOffIds]}::int[])
     order by s."doneAt" desc, s."id" desc`);

export const readTimeZone = async (execute: SqlExecutor) =>
  (await execute<{ timeZone: string }>(sql`select "timeZone" from "shop" where "id" = 1`))[0]?.timeZone ??
  'UTC';

const labelled = (execute: SqlExecutor, statement: Prisma.Sql) =>
  execute<{ id: number; label: string }>(statement);
/** What a search can be narrowed to. */
export const readChoices = async (execute: SqlExecutor) => {
  const [tanks, recipes, materials, people] = await Promise.all([
    labelled(
      execute,
      sql`select "id", concat_ws(' ', "code", "name") as "label" from "tank" order by "lineOrder", "code"`,
    ),
    labelled(
      execute,
      sql`select "id", concat_ws(' ', "number", "name") as "label" from "recipe" order by "number"`,
    ),
    labelled(
      execute,
      sql`select "id", concat_ws(', ', "name", nullif("condition", '')) as "label" from "material" order by "name"`,
    ),
    labelled(execute, sql`select "id", "displayName" as "label" from "person" order by "displayName"`),
  ]);
  return { tanks, recipes, materials, people };
};
