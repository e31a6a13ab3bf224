import { permissions, type PageRef, type StarterSetKey } from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { pageOf } from '../page-of.ts';

export interface ShopFacts {
  name: string;
  address: string;
  currency: string;
  timeZone: string;
  materials: number;
  tanks: number;
  connectedSupplies: number;
  baths: number;
  racks: number;
  rateNote: string | null;
  customers: number;
  parts: number;
  draftRecipes: number;
  approvedRecipes: number;
  /** Parts that an approved recipe is for. */
  matchedParts: number;
  chemicals: number;
  methods: number;
  draftQuotations: number;
  sentQuotations: number;
  approvers: number;
  selfApproval: boolean;
}

/** What there is of everything that a first quotation rests on. */
export async function readShopFacts(execute: SqlExecutor): Promise<ShopFacts> {
  const inUse = (table: string) =>
    sql`(select count(*)::int from ${Prisma.raw(`"${table}"`)} where "archivedAt" is null)`;
  const [row] = await execute<ShopFacts>(sql`
    select s."name", s."address", s."currency", s."timeZone", s."selfApproval",
           ${inUse('material')} as "materials", ${inUse('rack')} as "racks", ${inUse('customer')} as "customers",
           ${inUse('part')} as "parts", ${inUse('chemical')} as "chemicals",
           (select count(*)::int from "tank" where "archivedAt" is null and "contents" <> 'air') as "tanks",
           (select count(*)::int from "power_supply" u where u."archivedAt" is null and exists (
              select 1 from "power_supply_tank" x join "tank" t on t."id" = x."tankId"
               where x."supplyId" = u."id" and t."archivedAt" is null)) as "connectedSupplies",
           (select count(*)::int from "bath" where "dumpedAt" is null) as "baths",
           (select "note" from "rate_card" order by "revision" desc limit 1) as "rateNote",
           (select count(*)::int from "recipe_revision" r join "recipe" h on h."id" = r."recipeId"
             where r."status" = 'draft' and h."archivedAt" is null) as "draftRecipes",
           (select count(*)::int from "recipe_revision" r join "recipe" h on h."id" = r."recipeId"
             where r."status" = 'approved' and h."archivedAt" is null) as "approvedRecipes",
           (select count(*)::int from "part" p join "material" m on m."id" = p."materialId"
             where p."archivedAt" is null and exists (
               select 1 from "recipe_revision" r join "recipe" h on h."id" = r."recipeId"
                where r."status" = 'approved' and h."archivedAt" is null and m."baseMetal" = any (h."baseMetals"))) as "matchedParts",
           (select count(*)::int from "analysis_method" where "status" = 'in-force') as "methods",
           (select count(*)::int from "quotation_revision" where "status" = 'draft') as "draftQuotations",
           (select count(*)::int from "quotation_revision" where "sentAt" is not null) as "sentQuotations",
           (select count(*)::int from "person" where "active" and "passwordHash" is not null
              and "roles" && ${[...permissions['recipes.approve']]}::text[]) as "approvers"
      from "shop" s where s."id" = 1`);
  if (row === undefined) throw new Error('there is no shop row');
  return row;
}

const named: Record<Exclude<StarterSetKey, 'rates'>, Prisma.Sql> = {
  materials: sql`select concat_ws(', ', "name", nullif("condition", '')) as "key", "name", ${pageOf('material', sql`"id"`)} as "page" from "material"`,
  tanks: sql`select "code" as "key", "code" || ' ' || "name" as "name", ${pageOf('tank', sql`"id"`)} as "page" from "tank"`,
  supplies: sql`select "code" as "key", "code" || ' ' || "name" as "name", ${pageOf('supply', sql`"id"`)} as "page" from "power_supply"`,
  racks: sql`select "code" as "key", "code" || ' ' || "name" as "name", ${pageOf('rack', sql`"id"`)} as "page" from "rack"`,
  chemicals: sql`select "code" as "key", "code" || ' ' || "name" as "name", ${pageOf('chemical', sql`"id"`)} as "page" from "chemical"`,
  recipes: sql`select "name" as "key", "number" || ' ' || "name" as "name", ${pageOf('recipe', sql`"id"`)} as "page" from "recipe"`,
};
export interface Named {
  key: string;
  name: string;
  page: PageRef;
}
/** Records of a kind by what makes them one of a kind: code, or name. Archived ones count: their code is taken. */
export const readNamed = (execute: SqlExecutor, set: keyof typeof named): Promise<Named[]> =>
  execute<Named>(named[set]);

/** Tanks in use that hold something, in the order of the line. */
export const readTanksOf = (execute: SqlExecutor, contents: string) =>
  execute<{ id: number }>(
    sql`select "id" from "tank" where "contents" = ${contents} and "archivedAt" is null order by "lineOrder", "id"`,
  );

/** Whether this transaction may adopt: one at a time does. */
export async function holdAdopting(execute: SqlExecutor): Promise<boolean> {
  const [row] = await execute<{ held: boolean }>(
    sql`select pg_try_advisory_xact_lock(hashtextextended('starter-sets', 0)) as "held"`,
  );
  return row?.held ?? false;
}
