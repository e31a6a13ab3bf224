import type { QuotationSheet } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

type Part = QuotationSheet['parts'][number];
type Recipe = QuotationSheet['recipes'][number];

const partRow = sql`
  select p."id", p."number", p."revision", p."description", agreed_colour(p."colourStandardId") as "agreedColour", zones_of_part(p."id") as "zones", p."areaMm2", p."electricalAreaMm2", p."massKg", p."widthMm", p."heightMm",
         p."maskingFeatures", m."baseMetal", m."id" as "materialId", concat_ws(', ', m."name", nullif(m."condition", '')) as "material", m."heatCapacityJPerKgK"
    from "part" p join "material" m on m."id" = p."materialId"`;
const recipeRow = sql`
  select re."id" as "recipeId", rr."id" as "revisionId", re."number", re."name", rr."revision", rr."status", rr."selfApproved", re."family", re."baseMetals",
         (select coalesce(jsonb_agg(jsonb_build_object('position', s."position", 'kind', s."kind", 'title', s."title",
                   'contents', s."contents", 'durationS', s."durationS", 'dripS', s."dripS", 'settings', s."settings",
                   'electrical', s."electrical") order by s."position"), '[]'::jsonb)
            from "recipe_step" s where s."revisionId" = rr."id") as "steps"
    from "recipe_revision" rr join "recipe" re on re."id" = rr."recipeId"`;

/** Parts a new line can name: those of the customer that are not archived and not replaced by a newer revision. */
export const readSheetParts = (execute: SqlExecutor, customerId: number) =>
  execute<Part>(
    sql`${partRow} where p."customerId" = ${customerId} and p."archivedAt" is null and p."successorId" is null order by p."number", p."revision" limit 2000`,
  );
/** Approved recipe revisions. */
export const readSheetRecipes = (execute: SqlExecutor) =>
  execute<Recipe>(
    sql`${recipeRow} where rr."status" = 'approved' and re."archivedAt" is null order by re."name" limit 1000`,
  );
export const readSheetRacks = (execute: SqlExecutor) =>
  execute<QuotationSheet['racks'][number]>(sql`
    select "id", "code", "name", "baseMetal", "hooks", "windowWidthMm", "windowHeightMm", "layers", "gapMm", "maxLoadKg", "massKg", "bareAreaMm2"
      from "rack" where "archivedAt" is null order by "code"`);
export const readSheetSupplies = (execute: SqlExecutor) =>
  execute<QuotationSheet['supplies'][number]>(sql`
    select u."id", u."code", u."name", u."maxVoltageV", u."maxCurrentA", u."efficiency",
           (select coalesce(jsonb_agg(distinct k."contents"), '[]'::jsonb) from "power_supply_tank" x join "tank" k on k."id" = x."tankId"
             where x."supplyId" = u."id" and k."archivedAt" is null) as "contents"
      from "power_supply" u where u."archivedAt" is null order by u."code"`);

export const readSheetTanks = (execute: SqlExecutor) =>
  execute<QuotationSheet['tanks'][number]>(sql`
    select "code", "contents", "insideLengthMm", "insideWidthMm", "insideDepthMm"
      from "tank" where "archivedAt" is null order by "lineOrder", "code"`);

/** The card in force. */
export async function readRateCard(execute: SqlExecutor) {
  const [row] = await execute<NonNullable<QuotationSheet['rateCard']>>(
    sql`select "id", "revision", "rates" from "rate_card" order by "revision" desc limit 1`,
  );
  return row ?? null;
}

/** The very parts and recipes that lines name, whatever their state, for pricing on the server. */
export async function readNamed(
  execute: SqlExecutor,
  { partIds, revisionIds }: { partIds: number[]; revisionIds: number[] },
) {
  const [parts, recipes] = await Promise.all([
    execute<Part & { customerId: number; archived: boolean }>(sql`
      select x.*, p."customerId", p."archivedAt" is not null as "archived" from (${partRow}) x join "part" p on p."id" = x."id"
       where x."id" = any(${partIds}::int[])`),
    execute<Recipe>(sql`${recipeRow} where rr."id" = any(${revisionIds}::int[])`),
  ]);
  return { parts, recipes };
}

/** The codes of racks and supplies that lines name. */
export async function readEquipmentCodes(
  execute: SqlExecutor,
  { rackIds, supplyIds }: { rackIds: number[]; supplyIds: number[] },
) {
  type Coded = { id: number; code: string };
  const [racks, supplies] = await Promise.all([
    execute<Coded>(sql`select "id", "code" from "rack" where "id" = any(${rackIds}::int[])`),
    execute<Coded>(sql`select "id", "code" from "power_supply" where "id" = any(${supplyIds}::int[])`),
  ]);
  const byId = (rows: Coded[]) => new Map(rows.map(({ id, code }) => [id, code]));
  return { racks: byId(racks), supplies: byId(supplies) };
}

/** What a new quotation starts from. */
export async function readDefaults(execute: SqlExecutor) {
  const [row] = await execute<{
    baseCurrency: string;
    validUntil: string;
    leadTimeDays: number;
    terms: string;
    day: string;
  }>(sql`
    select "currency" as "baseCurrency", ((now() at time zone "timeZone")::date + "quotationValidityDays")::text as "validUntil", "leadTimeDays", "terms",
           (now() at time zone "timeZone")::date::text as "day" from "shop"`);
  if (row === undefined) throw new Error('there is no shop row');
  return row;
}

/** The customer as a quotation needs it; `null` when there is none. */
export async function readCustomer(execute: SqlExecutor, id: number) {
  const [row] = await execute<QuotationSheet['customer'] & { closed: boolean }>(sql`
    select c."id", c."number", c."name", c."currency", c."terms", c."taxRatePercent"::float8 as "taxRatePercent",
           c."archivedAt" is not null or c."mergedIntoId" is not null as "closed",
           (select coalesce(jsonb_agg(k."name" order by k."position"), '[]'::jsonb) from "customer_contact" k where k."customerId" = c."id") as "contacts"
      from "customer" c where c."id" = ${id}`);
  return row ?? null;
}

/** Trials of some ids, held so that no other quotation charges them meanwhile. */
export const lockTrials = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<{ id: number; number: string; state: string }>(
    sql`select "id", "number", "state" from "trial_run" where "id" = any(${[...ids]}::int[]) order by "id" for no key update`,
  );

/** The number of another quotation that charges a trial: a draft, one that is accepted, or one that may still be. */
export const readChargedOn = async (
  execute: SqlExecutor,
  { trialRunId, quotationId }: { trialRunId: number; quotationId: number | null },
): Promise<string | null> => {
  const [row] = await execute<{ number: string }>(sql`
    select q."number"
      from "quotation_line" l
      join "quotation_revision" r on r."id" = l."revisionId"
      join "quotation" q on q."id" = r."quotationId"
     where l."options" -> 'oneOffs' @> ${JSON.stringify([{ trialRunId }])}::jsonb
       and r."quotationId" is distinct from ${quotationId}::int
       and (r."status" in ('draft', 'accepted')
            or r."status" = 'sent' and r."validUntil" >= (select (now() at time zone "timeZone")::date from "shop"))
     order by q."id" limit 1`);
  return row?.number ?? null;
};
