import type {
  CatalogueColour,
  ColourSpread,
  Lab,
  MeasuringConditions,
  PriceClass,
  RecipeRevisionRef,
} from '@huelot/contracts';
import { LEAST_QUOTED, type BaseMetal, type Family } from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';
import { standsNotDone } from '../../production/travelers/index.ts';

/** Readings of a revision that are looked at, the newest first: the answer does not grow with the years. */
const READINGS = 300;
/** Quoted lines of a recipe that are looked at, the newest first. */
const QUOTED = 200;

export interface ApprovedRow extends RecipeRevisionRef {
  family: Family;
  baseMetals: BaseMetal[];
  words: string;
}

/** The approved revisions of recipes in use, as they were approved. */
export function readApproved(
  execute: SqlExecutor,
  { search, family, baseMetal }: { search?: string; family?: Family; baseMetal?: BaseMetal },
) {
  const name = sql`coalesce(x."snapshot" -> 'recipe' ->> 'name', r."name")`;
  const words = sql`coalesce(x."snapshot" -> 'recipe' ->> 'colour', r."colour")`;
  return execute<ApprovedRow>(sql`
    select x."id", x."recipeId", r."number", ${name} as "name", x."revision", r."family", r."baseMetals", ${words} as "words"
      from "recipe_revision" x join "recipe" r on r."id" = x."recipeId"
     where x."status" = 'approved' and r."archivedAt" is null
       ${family === undefined ? Prisma.empty : sql`and r."family" = ${family}`}
       ${baseMetal === undefined ? Prisma.empty : sql`and ${baseMetal} = any (r."baseMetals")`}
       ${search ? sql`and (r."number" || ' ' || ${name} || ' ' || ${words}) ilike ${containing(search)}` : Prisma.empty}
     order by r."number"`);
}

/** An alloy on which a recipe revision is proved. */
export interface Pair {
  revisionId: number;
  materialId: number;
}
const pairsOf = (pairs: readonly Pair[]) => sql`
  unnest(${pairs.map(({ revisionId }) => revisionId)}::int[], ${pairs.map(({ materialId }) => materialId)}::int[])
    as x ("revisionId", "materialId")`;

export interface SpreadRow extends Pair, ColourSpread {
  /** That the readings were judged by, of the zone that was read; null where nothing was agreed. */
  standard: CatalogueColour['standard'];
  lab: Lab;
  conditions: MeasuringConditions;
}

/**
 * What lots of revisions were measured to be: mean and spread of the newest readings that count, of those alike in their
 * conditions to the newest. Zones of a piece with a standard of their own are colours of their own, on the alloy of the zone. The spread is the root mean square of CIE 1976 dE*ab from the mean.
 */
export const readSpreads = (execute: SqlExecutor, revisionIds: readonly number[]) =>
  execute<SpreadRow>(sql`
    select distinct on (g."revisionId", g."materialId", g."standardId") g."revisionId", g."materialId", g."conditions", g."lab",
           g."deltaEab", g."readings", g."lots", case when g."standardId" is not null then
             jsonb_build_object('id', g."standardId", 'code', s."code", 'name', agreed_colour(s."id") -> 'name') end as "standard"
      from (
        select x."revisionId", coalesce(z."materialId", p."materialId") as "materialId", r."standardId", r."conditions",
               count(*)::int as "readings",
               count(distinct r."lotId")::int as "lots", max(r."readAt") as "newest",
               jsonb_build_object('L', avg(r."labL"), 'a', avg(r."labA"), 'b', avg(r."labB")) as "lab",
               sqrt(var_pop(r."labL") + var_pop(r."labA") + var_pop(r."labB")) as "deltaEab"
          from unnest(${[...revisionIds]}::int[]) as x ("revisionId")
          cross join lateral (
            select c."lotId", c."conditions", c."readAt", c."labL", c."labA", c."labB", c."zone",
                   (c."agreed" ->> 'standardId')::int as "standardId"
              from "colour_reading" c
             where c."recipeRevisionId" = x."revisionId" and c."grade" = 'measured' and not c."withdrawn" and c."labL" is not null
               and not exists (select from "colour_reading" n where n."correctsId" = c."id")
             order by c."readAt" desc limit ${READINGS}) r
          join "lot" l on l."id" = r."lotId"
          join "part" p on p."id" = l."partId"
          left join lateral (
            select (o."zone" -> 'material' ->> 'id')::int as "materialId"
              from jsonb_array_elements(coalesce(l."snapshot" -> 'part' -> 'zones', '[]'::jsonb)) as o ("zone")
             where r."zone" <> '' and lower(o."zone" ->> 'name') = lower(r."zone") limit 1) z on true
         group by x."revisionId", coalesce(z."materialId", p."materialId"), r."standardId", r."conditions") g
      left join "colour_standard" s on s."id" = g."standardId"
     order by g."revisionId", g."materialId", g."standardId", g."newest" desc`);

/** Between which prices half of what was quoted of a recipe on an alloy lies, for a square decimetre of coated area. */
export const readPrices = (execute: SqlExecutor, pairs: readonly Pair[]) =>
  execute<Pair & PriceClass>(sql`
    select x."revisionId", x."materialId", g."lines", s."currency",
           round(g."low"::numeric, 2)::text as "low", round(g."high"::numeric, 2)::text as "high"
      from ${pairsOf(pairs)}
      cross join "shop" s
      cross join lateral (
        select count(distinct q."id")::int as "lines",
               percentile_cont(0.25) within group (order by q."price") as "low",
               percentile_cont(0.75) within group (order by q."price") as "high"
          from (
            select l."id", b."unitPrice"::float8 / coalesce(e."rate"::float8, 1) / (a."areaMm2" / 10000) as "price"
              from (
                select l."id", l."partId", l."revisionId", l."recipeRevisionId"
                  from "recipe_revision" v
                  join "quotation_line" l on l."recipeRevisionId" = v."id"
                  join "quotation_revision" r on r."id" = l."revisionId" and r."status" in ('sent', 'accepted')
                 where v."recipeId" = (select "recipeId" from "recipe_revision" where "id" = x."revisionId")
                 order by l."id" desc limit ${QUOTED}) l
              join "part" p on p."id" = l."partId" and p."materialId" = x."materialId"
              join "quotation_revision" r on r."id" = l."revisionId"
              left join "exchange_rate" e on e."id" = r."exchangeRateId"
              join "quotation_break" b on b."lineId" = l."id"
              cross join lateral (
                select coalesce((r."snapshot" -> 'lines' -> l."id"::text -> 'part' ->> 'coatedAreaMm2')::float8, p."coatedAreaMm2") as "areaMm2") a
             where a."areaMm2" > 0) q) g
     where g."lines" >= ${LEAST_QUOTED}`);

/** The newest lot of a recipe, whatever its revision, that took its colour on an alloy. */
export const readLastMade = (execute: SqlExecutor, pairs: readonly Pair[]) =>
  execute<Pair & { lotId: number; lot: string; at: string }>(sql`
    select distinct on (x."revisionId", x."materialId") x."revisionId", x."materialId", l."id" as "lotId", l."number" as "lot",
           to_char(s."doneAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "at"
      from ${pairsOf(pairs)}
      join "recipe_revision" v on v."recipeId" = (select "recipeId" from "recipe_revision" where "id" = x."revisionId")
      cross join lateral (
        select s."lotId", s."doneAt" from "step_sign_off" s
         where s."recipeRevisionId" = v."id" and s."materialId" = x."materialId" and s."stepKind" = 'colour'
           and not ${standsNotDone('s')}
         order by s."doneAt" desc limit 1) s
      join "lot" l on l."id" = s."lotId"
     order by x."revisionId", x."materialId", s."doneAt" desc`);

export const readMaterial = async (execute: SqlExecutor, id: number) =>
  (
    await execute<{ id: number; name: string; condition: string; baseMetal: BaseMetal }>(sql`
      select "id", "name", "condition", "baseMetal" from "material" where "id" = ${id}`)
  )[0] ?? null;

/** Who prints the sheet, and on which paper. */
export async function readShop(execute: SqlExecutor) {
  const [row] = await execute<{
    name: string;
    contact: string;
    address: string;
    units: 'metric' | 'us';
    day: string;
  }>(sql`
    select "name", "contact", "address", "units", (now() at time zone "timeZone")::date::text as "day" from "shop"`);
  if (row === undefined) throw new Error('there is no shop row');
  return row;
}
