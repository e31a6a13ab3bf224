import type { TraceHit } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Run } from '../../db/client.ts';

export interface Range {
  quantity: string;
  min: number | null;
  max: number | null;
}
export interface TraceAsked {
  partId?: number | undefined;
  customerId?: number | undefined;
  materialId?: number | undefined;
  recipeId?: number | undefined;
  tankId?: number | undefined;
  bathId?: number | undefined;
  supplyId?: number | undefined;
  personId?: number | undefined;
  stepKind?: string | undefined;
  outside?: 'yes' | 'no' | undefined;
  from?: string | undefined;
  to?: string | undefined;
  ranges: Range[];
  timeZone: string;
  after: { doneAt: string; id: number } | null;
  limit: number;
}

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

/** Signed steps by what was really set, newest first, one more than the page holds. */
export function searchSignOffs(run: Run, asked: TraceAsked) {
  const { from, to, timeZone, after } = asked;
  return run<z.input<typeof TraceHit>>(sql`
    select s."id" as "signOffId", l."id" as "lotId", l."number" as "lotNumber", c."name" as "customer",
           concat_ws(' ', p."number", 'rev', p."revision") as "part",
           concat_ws(', ', m."name", nullif(m."condition", '')) as "material",
           concat_ws(' ', re."number", re."name", 'rev', rr."revision") as "recipe",
           t."number" as "travelerNumber", t."revision" as "travelerRevision", st."position", s."stepKind", st."title",
           k."code" as "tank", b."number" as "bath", u."code" as "supply", pe."displayName" as "person",
           to_char(s."doneAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "doneAt", s."countOut", s."outside",
           (select coalesce(jsonb_agg(jsonb_build_object('quantity', r."quantity", 'value', ${standing},
                     'corrected', exists (select 1 from "step_correction" c where c."signOffId" = r."signOffId" and c."quantity" = r."quantity"))
                     order by r."id"), '[]'::jsonb)
              from "step_reading" r where r."signOffId" = s."id") as "readings"
      from "step_sign_off" s
      join "traveler_step" st on st."id" = s."stepId"
      join "traveler" t on t."id" = st."travelerId"
      join "lot" l on l."id" = s."lotId"
      join "part" p on p."id" = s."partId"
      join "customer" c on c."id" = p."customerId"
      join "material" m on m."id" = s."materialId"
      join "recipe_revision" rr on rr."id" = s."recipeRevisionId"
      join "recipe" re on re."id" = rr."recipeId"
      join "person" pe on pe."id" = s."personId"
      left join "tank" k on k."id" = s."tankId"
      left join "bath" b on b."id" = s."bathId"
      left join "power_supply" u on u."id" = s."supplyId"
     where true
       ${only(sql`s."partId"`, asked.partId)} ${only(sql`p."customerId"`, asked.customerId)}
       ${only(sql`s."materialId"`, asked.materialId)} ${only(sql`rr."recipeId"`, asked.recipeId)}
       ${only(sql`s."tankId"`, asked.tankId)} ${only(sql`s."bathId"`, asked.bathId)}
       ${only(sql`s."supplyId"`, asked.supplyId)} ${only(sql`s."personId"`, asked.personId)}
       ${only(sql`s."stepKind"`, asked.stepKind)}
       ${asked.outside === undefined ? Prisma.empty : sql`and s."outside" = ${asked.outside === 'yes'}`}
       ${from === undefined ? Prisma.empty : sql`and s."doneAt" >= (${from}::date)::timestamp at time zone ${timeZone}`}
       ${to === undefined ? Prisma.empty : sql`and s."doneAt" < ((${to}::date) + 1)::timestamp at time zone ${timeZone}`}
       ${asked.ranges.length === 0 ? Prisma.empty : Prisma.join(asked.ranges.map(within), ' ')}
       ${after === null ? Prisma.empty : sql`and (s."doneAt", s."id") < (${after.doneAt}::timestamptz, ${after.id}::int)`}
     order by s."doneAt" desc, s."id" desc
     limit ${asked.limit + 1}`);
}

export const readTimeZone = async (run: Run) =>
  (await run<{ timeZone: string }>(sql`select "timeZone" from "shop" where "id" = 1`))[0]?.timeZone ?? 'UTC';

const labelled = (run: Run, statement: Prisma.Sql) => run<{ id: number; label: string }>(statement);
/** What a search can be narrowed to. */
export const readChoices = async (run: Run) => {
  const [tanks, recipes, materials, people] = await Promise.all([
    labelled(
      run,
      sql`select "id", concat_ws(' ', "code", "name") as "label" from "tank" order by "lineOrder", "code"`,
    ),
    labelled(
      run,
      sql`select "id", concat_ws(' ', "number", "name") as "label" from "recipe" order by "number"`,
    ),
    labelled(
      run,
      sql`select "id", concat_ws(', ', "name", nullif("condition", '')) as "label" from "material" order by "name"`,
    ),
    labelled(run, sql`select "id", "displayName" as "label" from "person" order by "displayName"`),
  ]);
  return { tanks, recipes, materials, people };
};
