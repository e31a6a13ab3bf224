import type { FoundRecord } from '@huelot/contracts';
import type { z } from 'zod';
import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { containing, indexedPatterns, likeAny } from '../../db/lists.ts';

type Kind = z.output<typeof FoundRecord>['kind'];

/** How a kind of record is found. */
interface Finder {
  /** Kind, id, number, title, and the kind and id of its page. */
  select: Prisma.Sql;
  /** Where the words stand anywhere, in what does not grow with the work. */
  holds?: (like: string) => Prisma.Sql;
  /** What grows with the work is found by indexes: the columns that are looked into, one after the other. */
  indexed?: readonly Prisma.Sql[];
  /** Its number, where it has one of the shop's series. */
  number?: Prisma.Sql;
}

const finders: Record<Kind, Finder> = {
  customer: {
    select: sql`select 'customer', "id", "number", "name", 'customer', "id" from "customer"`,
    holds: (like) => sql`"number" ilike ${like} or "name" ilike ${like}`,
    number: sql`"number"`,
  },
  contact: {
    select: sql`select 'contact', p."id", p."name", concat_ws(', ', nullif(p."role", ''), c."name"), 'customer', c."id" from "customer_contact" p join "customer" c on c."id" = p."customerId"`,
    holds: (like) => sql`p."name" ilike ${like} or p."email" ilike ${like}`,
  },
  part: {
    select: sql`select 'part', "id", "number", concat_ws(' ', 'rev', "revision", "description"), 'part', "id" from "part"`,
    holds: (like) => sql`("number" || ' ' || "description") ilike ${like}`,
  },
  material: {
    select: sql`select 'material', "id", "name", concat_ws(', ', nullif("designation", ''), nullif("condition", '')), 'material', "id" from "material"`,
    holds: (like) => sql`"name" ilike ${like} or "designation" ilike ${like}`,
  },
  enquiry: {
    select: sql`select 'enquiry', e."id", e."number", concat_ws(', ', coalesce(c."name", e."customerName"), nullif(e."colourName", '')), 'enquiry', e."id" from "enquiry" e left join "customer" c on c."id" = e."customerId"`,
    holds: (like) => sql`e."number" ilike ${like} or e."customerName" ilike ${like}`,
    number: sql`e."number"`,
  },
  quotation: {
    select: sql`select 'quotation', q."id", q."number", c."name", 'quotation', q."id" from "quotation" q join "customer" c on c."id" = q."customerId"`,
    indexed: [sql`q."number"`],
    number: sql`q."number"`,
  },
  order: {
    select: sql`select 'order', o."id", o."number", concat_ws(', ', c."name", nullif(o."customerOrderNumber", '')), 'order', o."id" from "customer_order" o join "customer" c on c."id" = o."customerId"`,
    indexed: [sql`o."number"`, sql`o."customerOrderNumber"`],
    number: sql`o."number"`,
  },
  lot: {
    select: sql`select 'lot', l."id", l."number", concat_ws(' ', l."snapshot" -> 'part' ->> 'number', l."quantity" || ' pieces,', l."status"), 'lot', l."id" from "lot" l`,
    indexed: [sql`l."number"`],
    number: sql`l."number"`,
  },
  traveler: {
    select: sql`select 'traveler', t."id", t."number", concat('rev ', t."revision", ', ', t."status"), 'traveler', t."id" from "traveler" t`,
    indexed: [sql`t."number"`],
    number: sql`t."number"`,
  },
  recipe: {
    select: sql`select 'recipe', "id", "number", "name", 'recipe', "id" from "recipe"`,
    holds: (like) => sql`"number" ilike ${like} or "name" ilike ${like}`,
    number: sql`"number"`,
  },
  tank: {
    select: sql`select 'tank', "id", "code", "name", 'tank', "id" from "tank"`,
    holds: (like) => sql`"code" ilike ${like} or "name" ilike ${like}`,
  },
  supply: {
    select: sql`select 'supply', "id", "code", "name", 'supply', "id" from "power_supply"`,
    holds: (like) => sql`"code" ilike ${like} or "name" ilike ${like}`,
  },
  rack: {
    select: sql`select 'rack', "id", "code", "name", 'rack', "id" from "rack"`,
    holds: (like) => sql`"code" ilike ${like} or "name" ilike ${like}`,
  },
  bath: {
    select: sql`select 'bath', b."id", b."number", concat_ws(' ', 'in', k."code"), 'bath', b."id" from "bath" b join "tank" k on k."id" = b."tankId"`,
    indexed: [sql`b."number"`],
    number: sql`b."number"`,
  },
  analysis: {
    select: sql`select 'analysis', a."id", a."number", concat_ws(' ', 'of', b."number", 'in', k."code"), 'analysis', a."id" from "analysis" a join "bath" b on b."id" = a."bathId" join "tank" k on k."id" = b."tankId"`,
    indexed: [sql`a."number"`],
    number: sql`a."number"`,
  },
  addition: {
    select: sql`select 'addition', a."id", a."number", concat_ws(' ', a."state", 'for', b."number", 'in', k."code"), 'addition', a."id" from "addition" a join "bath" b on b."id" = a."bathId" join "tank" k on k."id" = b."tankId"`,
    indexed: [sql`a."number"`],
    number: sql`a."number"`,
  },
  chemical: {
    select: sql`select 'chemical', "id", "code", "name", 'chemical', "id" from "chemical"`,
    holds: (like) => sql`"code" ilike ${like} or "name" ilike ${like} or "formula" ilike ${like}`,
  },
  couponSeries: {
    select: sql`select 'couponSeries', "id", "code", concat_ws(' ', 'rev', "revision" || ',', "name"), 'couponSeries', "id" from "coupon_series"`,
    holds: (like) =>
      sql`"status" in ('draft', 'approved') and ("code" ilike ${like} or "name" ilike ${like})`,
  },
  calibration: {
    select: sql`select 'calibration', "id", "code", concat_ws(' ', 'rev', "revision" || ',', "name"), 'calibration', "id" from "calibration"`,
    holds: (like) =>
      sql`"status" in ('draft', 'approved') and ("code" ilike ${like} or "name" ilike ${like})`,
  },
  colourStandard: {
    select: sql`select 'colourStandard', s."id", s."code", agreed_colour(s."id") ->> 'name', 'colourStandard', s."id" from "colour_standard" s`,
    holds: (like) => sql`s."code" ilike ${like} or agreed_colour(s."id") ->> 'name' ilike ${like}`,
  },
  shipment: {
    select: sql`select 'shipment', s."id", s."number", concat(s."quantity", ' pieces of ', l."number"), 'lot', l."id" from "shipment" s join "lot" l on l."id" = s."lotId"`,
    indexed: [sql`s."number"`, sql`s."document"`],
    number: sql`s."number"`,
  },
  nonconformance: {
    select: sql`select 'nonconformance', n."id", n."number", concat('lot ', n."record" -> 'lot' ->> 'number', ', ', n."record" -> 'customer' ->> 'name'), 'nonconformance', n."id" from "nonconformance" n`,
    indexed: [sql`n."number"`],
    number: sql`n."number"`,
  },
  assessment: {
    select: sql`select 'assessment', a."id", a."number", coalesce(nullif(a."aboutName", ''), left(a."reason", 80)), 'assessment', a."id" from "impact_assessment" a`,
    indexed: [sql`a."number"`],
    number: sql`a."number"`,
  },
  customerLetter: {
    select: sql`select 'customerLetter', e."id", e."number", concat('letter to ', e."facts" -> 'customer' ->> 'name'), 'assessment', e."assessmentId" from "assessment_letter" e`,
    indexed: [sql`e."number"`],
    number: sql`e."number"`,
  },
  certificate: {
    select: sql`select 'certificate', c."id", c."number", concat('rev ', c."revision", ', ', c."facts" -> 'customer' ->> 'name'), 'certificate', c."id" from "certificate" c`,
    indexed: [sql`c."number"`],
    number: sql`c."number"`,
  },
  invoice: {
    select: sql`select 'invoice', i."id", i."number", i."facts" -> 'customer' ->> 'name', 'invoice', i."id" from "invoice" i`,
    indexed: [sql`i."number"`],
    number: sql`i."number"`,
  },
  deliveryNote: {
    select: sql`select 'deliveryNote', d."id", d."number", d."facts" -> 'customer' ->> 'name', 'deliveryNote', d."id" from "delivery_note" d`,
    indexed: [sql`d."number"`],
    number: sql`d."number"`,
  },
};

export const readNumberSeries = (execute: SqlExecutor): Promise<{ prefix: string; digits: number }[]> =>
  execute(sql`select "prefix", "digits" from "number_series" order by "kind"`);

/** Records of the given kinds whose number or name holds the words, or that bear one of the numbers; the likeliest first. */
export function findRecords(
  execute: SqlExecutor,
  search: { words: string; numbers: string[]; kinds: Kind[] },
) {
  const { words, numbers, kinds } = search;
  const like = containing(words);
  const patterns = indexedPatterns(words);
  const parts = kinds.flatMap((kind) => {
    const { select, holds, indexed = [], number } = finders[kind];
    const found = [
      ...(holds === undefined ? [] : [sql`(${select} where ${holds(like)} limit 12)`]),
      ...indexed.map((column) => sql`(${select} where ${likeAny(column, patterns)} limit 12)`),
    ];
    return number === undefined || numbers.length === 0
      ? found
      : [sql`(${select} where ${number} = any(${numbers}))`, ...found];
  });
  return execute<z.input<typeof FoundRecord>>(sql`${plannedAnew}
    select "kind", "id", "number", "title", json_build_object('kind', "pageKind", 'id', "pageId") as "page"
      from (${Prisma.join(parts, ' union ')}) as found("kind", "id", "number", "title", "pageKind", "pageId")
     order by lower("number") = lower(${words}) desc, "number" = any(${numbers}) desc,
       "number" ilike ${like.slice(1)} desc, "number", "kind", "id"
     limit 30`);
}
