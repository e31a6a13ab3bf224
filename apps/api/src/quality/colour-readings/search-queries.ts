import type { ColourPoint } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { materialName, partName } from '../../db/snapshots.ts';
import { instant, labOf, stands } from './queries.ts';

/** A figure of the colour step `s` as it stands after corrections. */
const figure = (quantity: string) => sql`coalesce(
  (select c."newValue" from "step_correction" c where c."signOffId" = s."id" and c."quantity" = ${quantity} order by c."id" desc limit 1),
  (select x."value" from "step_reading" x where x."signOffId" = s."id" and x."quantity" = ${quantity}))`;

/** What the newest analysis before the step found of the first component of its bath. */
const strength = sql`(
  select jsonb_build_object('name', x."name", 'value', x."value", 'unit', x."unit")
    from "analysis_result" x join "analysis" n on n."id" = x."analysisId"
   where x."bathId" = s."bathId" and x."sampledAt" <= s."doneAt" and n."voidedAt" is null
     and not exists (select 1 from "analysis" y where y."supersedesId" = n."id")
   order by x."sampledAt" desc, x."id" limit 1)`;

export type PointRow = z.input<typeof ColourPoint>;
const point = sql`
  select r."id" as "readingId", jsonb_build_object('id', l."id", 'number', l."number") as "lot",
         ${partName(sql`l."snapshot" -> 'part'`)} as "part", ${materialName(sql`l."snapshot" -> 'part'`)} as "material",
         concat_ws(' ', l."snapshot" -> 'recipe' ->> 'number', l."snapshot" -> 'recipe' ->> 'name') as "recipe",
         r."zone", r."place", r."grade", ${instant(sql`r."readAt"`)} as "readAt", ${labOf} as "lab", r."deltaE",
         (r."judged" -> 'dL')::float8 as "dL", (r."judged" -> 'da')::float8 as "da", (r."judged" -> 'db')::float8 as "db",
         (r."judged" -> 'limit')::float8 as "limit", r."verdict", r."standardExpired", null as "distance",
         ${figure('voltageV')} as "voltageV", ${figure('temperatureC')} as "temperatureC",
         s."snapshot" -> 'bath' as "bath", ${strength} as "strength"
    from "colour_reading" r
    join "lot" l on l."id" = r."lotId"
    join "recipe_revision" v on v."id" = r."recipeRevisionId"
    left join "step_sign_off" s on s."id" = r."colourSignOffId"
   where r."labL" is not null and ${stands}`;

/** The newest readings of a recipe, newest first. */
export const readOfRecipe = (execute: SqlExecutor, recipeId: number) =>
  execute<PointRow>(
    sql`${point} and v."recipeId" = ${recipeId} order by r."readAt" desc, r."id" desc limit 500`,
  );

export interface Box {
  L: number;
  a: number;
  b: number;
  half: number;
}
/** Readings within a cube of CIELAB and a range of differences, newest first. */
export const readWithin = (
  execute: SqlExecutor,
  asked: {
    box: Box | null;
    /** Only colours under this light and for this observer are near each other. */
    light: { illuminant: string; observerDeg: number };
    deltaEFrom: number | undefined;
    deltaETo: number | undefined;
    recipeId: number | undefined;
    limit: number;
  },
) =>
  execute<PointRow>(sql`
    ${point}
      ${
        asked.box === null
          ? Prisma.empty
          : sql`and coalesce(r."conditions" ->> 'illuminant', ${asked.light.illuminant}) = ${asked.light.illuminant}
                and coalesce((r."conditions" -> 'observerDeg')::int, ${asked.light.observerDeg}::int) = ${asked.light.observerDeg}::int
                and r."labL" between ${asked.box.L - asked.box.half}::float8 and ${asked.box.L + asked.box.half}::float8
                and r."labA" between ${asked.box.a - asked.box.half}::float8 and ${asked.box.a + asked.box.half}::float8
                and r."labB" between ${asked.box.b - asked.box.half}::float8 and ${asked.box.b + asked.box.half}::float8`
      }
      ${asked.deltaEFrom === undefined ? Prisma.empty : sql`and r."deltaE" >= ${asked.deltaEFrom}::float8`}
      ${asked.deltaETo === undefined ? Prisma.empty : sql`and r."deltaE" <= ${asked.deltaETo}::float8`}
      ${asked.recipeId === undefined ? Prisma.empty : sql`and v."recipeId" = ${asked.recipeId}`}
     order by r."readAt" desc, r."id" desc limit ${asked.limit}`);
