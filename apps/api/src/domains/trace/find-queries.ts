import type { FoundRecord } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Run } from '../../db/client.ts';

type Kind = z.output<typeof FoundRecord>['kind'];

/** One select for each kind of record: number, title and page. `like` finds anywhere, `starts` sorts the likely first. */
const selects: Record<Kind, (like: string) => Prisma.Sql> = {
  customer: (like) =>
    sql`select 'customer' as "kind", "id", "number", "name" as "title", '/customers/' || "id" as "href" from "customer" where "number" ilike ${like} or "name" ilike ${like}`,
  part: (like) =>
    sql`select 'part', "id", "number", concat_ws(' ', 'rev', "revision", "description"), '/parts/' || "id" from "part" where ("number" || ' ' || "description") ilike ${like}`,
  quotation: (like) =>
    sql`select 'quotation', q."id", q."number", c."name", '/quotations/' || q."id" from "quotation" q join "customer" c on c."id" = q."customerId" where q."number" ilike ${like}`,
  order: (like) =>
    sql`select 'order', o."id", o."number", concat_ws(', ', c."name", nullif(o."customerOrderNumber", '')), '/orders/' || o."id" from "customer_order" o join "customer" c on c."id" = o."customerId" where o."number" ilike ${like} or o."customerOrderNumber" ilike ${like}`,
  lot: (like) =>
    sql`select 'lot', l."id", l."number", concat_ws(' ', p."number", l."quantity" || ' pieces,', l."status"), '/lots/' || l."id" from "lot" l join "part" p on p."id" = l."partId" where l."number" ilike ${like}`,
  traveler: (like) =>
    sql`select 'traveler', t."id", t."number", concat('rev ', t."revision", ', ', t."status"), '/travelers/' || t."id" from "traveler" t where t."number" ilike ${like}`,
  recipe: (like) =>
    sql`select 'recipe', "id", "number", "name", '/recipes/' || "id" from "recipe" where "number" ilike ${like} or "name" ilike ${like}`,
  tank: (like) =>
    sql`select 'tank', "id", "code", "name", '/tanks/' || "id" from "tank" where "code" ilike ${like} or "name" ilike ${like}`,
  bath: (like) =>
    sql`select 'bath', b."id", b."number", concat_ws(' ', 'in', k."code"), '/lab/baths/' || b."id" from "bath" b join "tank" k on k."id" = b."tankId" where b."number" ilike ${like}`,
  analysis: (like) =>
    sql`select 'analysis', a."id", a."number", concat_ws(' ', 'of', b."number", 'in', k."code"), '/lab/analyses/' || a."id" from "analysis" a join "bath" b on b."id" = a."bathId" join "tank" k on k."id" = b."tankId" where a."number" ilike ${like}`,
  addition: (like) =>
    sql`select 'addition', a."id", a."number", concat_ws(' ', a."state", 'for', b."number", 'in', k."code"), '/lab/additions/' || a."id" from "addition" a join "bath" b on b."id" = a."bathId" join "tank" k on k."id" = b."tankId" where a."number" ilike ${like}`,
  chemical: (like) =>
    sql`select 'chemical', "id", "code", "name", '/lab/chemicals/' || "id" from "chemical" where "code" ilike ${like} or "name" ilike ${like}`,
  coupons: (like) =>
    sql`select 'coupons', "id", "code", concat_ws(' ', 'rev', "revision" || ',', "name"), '/lab/coupons/' || "id" from "coupon_series" where "status" in ('draft', 'approved') and ("code" ilike ${like} or "name" ilike ${like})`,
  shipment: (like) =>
    sql`select 'shipment', s."id", s."number", concat(s."quantity", ' pieces of ', l."number"), '/lots/' || l."id" from "shipment" s join "lot" l on l."id" = s."lotId" where s."number" ilike ${like} or s."document" ilike ${like}`,
};

/** Records of the given kinds whose number or name holds the words; exact numbers first. */
export function findRecords(run: Run, of: { words: string; kinds: Kind[] }) {
  const like = `%${of.words.replaceAll(/[\\%_]/g, '\\$&')}%`;
  const union = Prisma.join(
    of.kinds.map((kind) => sql`(${selects[kind](like)} limit 12)`),
    ' union all ',
  );
  return run<z.input<typeof FoundRecord>>(sql`
    select "kind", "id", "number", "title", "href" from (${union}) as found("kind", "id", "number", "title", "href")
     order by lower("number") = lower(${of.words}) desc, "number" ilike ${`${of.words.replaceAll(/[\\%_]/g, '\\$&')}%`} desc, "number"
     limit 30`);
}
