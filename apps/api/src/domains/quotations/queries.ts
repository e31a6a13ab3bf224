import type { BuildUp, Quotation, QuotationDraft, QuotationSummary } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type Run } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
const today = sql`(select (now() at time zone "timeZone")::date from "shop")`;
/** A sent revision past its day has lapsed, whether or not anybody booked it. */
const status = (r: Prisma.Sql) =>
  sql`case when ${r}."status" = 'sent' and ${r}."validUntil" < ${today} then 'lapsed' else ${r}."status" end`;
const person = (column: Prisma.Sql) => sql`(select "displayName" from "person" where "id" = ${column})`;

const lines = sql`
  select coalesce(jsonb_agg(jsonb_build_object(
      'id', l."id", 'position', l."position", 'rackId', l."rackId", 'supplyId', l."supplyId", 'options', l."options",
      'inspectionLevel', l."options" ->> 'inspectionLevel', 'certificate', l."options" -> 'certificate', 'packing', l."options" ->> 'packing',
      'expedite', l."options" -> 'expedite', 'oneOffs', l."options" -> 'oneOffs',
      'piecesPerLoad', coalesce((select b."buildUp" -> 'plan' -> 'piecesPerLoad' from "quotation_break" b where b."lineId" = l."id" limit 1), '0'::jsonb),
      'bindingLimit', coalesce((select (select string_agg(x ->> 'label', ' and ') from jsonb_array_elements(b."buildUp" -> 'plan' -> 'limits') x
           where b."buildUp" -> 'plan' -> 'binding' ? (x ->> 'key')) from "quotation_break" b where b."lineId" = l."id" limit 1), ''),
      'areaMm2', p."areaMm2", 'areaMethod', p."areaMethod", 'maskedAreaMm2', p."maskedAreaMm2", 'massKg', p."massKg",
      'material', concat_ws(', ', m."name", nullif(m."condition", '')),
      'specification', concat_ws(' ', nullif(p."specification", ''), nullif(p."specificationRevision", '')),
      'colour', case p."colourKind"
         when 'sample' then concat('as agreed sample ', p."colourSample")
         when 'lab' then concat('L* ', round(p."colourL"::numeric, 1), ', a* ', round(p."colourA"::numeric, 1), ', b* ', round(p."colourB"::numeric, 1), ' within ΔE00 ', p."toleranceDeltaE")
         else coalesce(nullif(re."colour", ''), '') end,
      'part', jsonb_build_object('id', p."id", 'number', p."number", 'revision', p."revision", 'description', p."description"),
      'recipe', jsonb_build_object('recipeId', re."id", 'revisionId', rr."id", 'number', re."number", 'name', re."name", 'revision', rr."revision", 'status', rr."status"),
      'breaks', (select coalesce(jsonb_agg(jsonb_build_object('id', b."id", 'quantity', b."quantity", 'totalPrice', b."totalPrice"::text,
                   'unitPrice', b."unitPrice"::text, 'loads', b."loads", 'buildUp', b."buildUp") order by b."quantity"), '[]'::jsonb)
                   from "quotation_break" b where b."lineId" = l."id")) order by l."position"), '[]'::jsonb)
    from "quotation_line" l
    join "part" p on p."id" = l."partId"
    join "material" m on m."id" = p."materialId"
    join "recipe_revision" rr on rr."id" = l."recipeRevisionId"
    join "recipe" re on re."id" = rr."recipeId"
   where l."revisionId" = r."id"`;

/** One quotation with one revision in full, the last unless `revision` names another; `null` when there is none. */
export async function readQuotation(
  run: Run,
  of: { id: number; revision?: number | undefined },
): Promise<Quotation | null> {
  const [row] = await run<{ quotation: Quotation }>(sql`
    select jsonb_build_object(
      'id', q."id", 'number', q."number", 'version', r."version",
      'customer', jsonb_build_object('id', c."id", 'number', c."number", 'name', c."name"),
      'order', (select jsonb_build_object('id', o."id", 'number', o."number") from "customer_order" o
                  join "quotation_revision" x on x."id" = o."quotationRevisionId" where x."quotationId" = q."id" limit 1),
      'revisions', (select jsonb_agg(jsonb_build_object('id', x."id", 'revision', x."revision", 'status', ${status(sql`x`)},
          'createdAt', ${instant(sql`x."createdAt"`)}, 'sentAt', ${instant(sql`x."sentAt"`)}) order by x."revision" desc)
          from "quotation_revision" x where x."quotationId" = q."id"),
      'shown', jsonb_build_object(
        'id', r."id", 'revision', r."revision", 'status', ${status(sql`r`)}, 'contactName', r."contactName",
        'enquiryReference', r."enquiryReference", 'validUntil', r."validUntil"::text, 'leadTimeDays', r."leadTimeDays",
        'currency', r."currency", 'taxRatePercent', r."taxRatePercent"::float8, 'terms', r."terms", 'customerNotes', r."customerNotes",
        'internalNotes', r."internalNotes", 'rateCardId', r."rateCardId", 'rateCardRevision', rc."revision", 'calcVersion', r."calcVersion",
        'createdBy', ${person(sql`r."createdById"`)}, 'createdAt', ${instant(sql`r."createdAt"`)},
        'sentAt', ${instant(sql`r."sentAt"`)}, 'sentBy', ${person(sql`r."sentById"`)},
        'decidedAt', ${instant(sql`r."decidedAt"`)}, 'decisionReason', r."decisionReason", 'version', r."version", 'lines', (${lines}))) as "quotation"
    from "quotation" q
    join "customer" c on c."id" = q."customerId"
    join lateral (
      select * from "quotation_revision" x where x."quotationId" = q."id"
         ${of.revision === undefined ? Prisma.empty : sql`and x."revision" = ${of.revision}`}
       order by x."revision" desc limit 1) r on true
    join "rate_card" rc on rc."id" = r."rateCardId"
    where q."id" = ${of.id}`);
  return row?.quotation ?? null;
}

interface Asked {
  search?: string | undefined;
  status?: string | undefined;
  customerId?: number | undefined;
  before: number | null;
  limit: number;
}
/** Quotations of a list, one more than the page holds. */
export function readQuotations(run: Run, asked: Asked) {
  const like = asked.search ? containing(asked.search) : null;
  return run<z.input<typeof QuotationSummary>>(sql`
    select q."id", q."number", jsonb_build_object('id', c."id", 'number', c."number", 'name', c."name") as "customer",
           r."revision", r."status", r."currency", r."validUntil"::text as "validUntil", ${instant(sql`q."createdAt"`)} as "createdAt",
           t."lineCount", t."lowest", t."highest"
      from "quotation" q
      join "customer" c on c."id" = q."customerId"
      join lateral (
        select x."id", x."revision", ${status(sql`x`)} as "status", x."currency", x."validUntil"
          from "quotation_revision" x where x."quotationId" = q."id" order by x."revision" desc limit 1) r on true
      cross join lateral (
        select count(distinct l."id")::int as "lineCount", min(b."totalPrice")::text as "lowest", max(b."totalPrice")::text as "highest"
          from "quotation_line" l left join "quotation_break" b on b."lineId" = l."id" where l."revisionId" = r."id") t
     where true
       ${asked.status === undefined ? Prisma.empty : sql`and r."status" = ${asked.status}`}
       ${asked.customerId === undefined ? Prisma.empty : sql`and q."customerId" = ${asked.customerId}`}
       ${like === null ? Prisma.empty : sql`and (q."number" ilike ${like} or c."name" ilike ${like})`}
       ${asked.before === null ? Prisma.empty : sql`and q."id" < ${asked.before}::int`}
     order by q."id" desc limit ${asked.limit + 1}`);
}

export interface PricedLine {
  line: QuotationDraft['lines'][number];
  /** What the price was computed from, kept so that it can be opened years later. */
  inputs: object;
  breaks: { quantity: number; totalPrice: string; unitPrice: string; loads: number; buildUp: BuildUp }[];
}

export interface RevisionText {
  contactName: string;
  enquiryReference: string;
  validUntil: string;
  leadTimeDays: number;
  taxRatePercent: number;
  terms: string;
  customerNotes: string;
  internalNotes: string;
  rateCardId: number;
}

export const addQuotation = (
  db: Queryable,
  of: { number: string; customerId: number; createdById: number },
) => db.prisma.quotation.create({ data: of, select: { id: true } });

export const addRevision = (
  db: Queryable,
  of: RevisionText & {
    quotationId: number;
    revision: number;
    currency: string;
    calcVersion: string;
    createdById: number;
  },
) =>
  db.prisma.quotationRevision.create({
    data: { ...of, validUntil: new Date(of.validUntil) },
    select: { id: true },
  });

export const changeRevision = (
  db: Queryable,
  id: number,
  data: Partial<
    Omit<RevisionText, 'validUntil'> & {
      validUntil: Date;
      calcVersion: string;
      status: string;
      sentAt: Date;
      sentById: number;
      decidedAt: Date;
      decidedById: number;
      decisionReason: string;
    }
  >,
) =>
  db.prisma.quotationRevision.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });

/** Puts priced lines in the place of whatever a draft held. */
export async function replaceLines(db: Queryable, revisionId: number, priced: PricedLine[]): Promise<void> {
  await db.prisma.quotationBreak.deleteMany({ where: { line: { revisionId } } });
  await db.prisma.quotationLine.deleteMany({ where: { revisionId } });
  for (const [at, { line, inputs, breaks }] of priced.entries()) {
    await db.prisma.quotationLine.create({
      data: {
        revisionId,
        position: at + 1,
        partId: line.partId,
        recipeRevisionId: line.recipeRevisionId,
        rackId: line.rackId,
        supplyId: line.supplyId,
        options: line.options,
        inputs: inputs,
        breaks: {
          create: breaks.map((one) => ({
            ...one,
            buildUp: one.buildUp,
          })),
        },
      },
    });
  }
}

/** Locks a quotation, so that two people never decide about it at once. */
export const lockQuotation = (run: Run, id: number) =>
  run(sql`select 1 from "quotation" where "id" = ${id} for update`);

/** Supersedes what was out with the customer before. */
export const supersedeSent = (run: Run, quotationId: number) =>
  run(
    sql`update "quotation_revision" set "status" = 'superseded', "version" = "version" + 1 where "quotationId" = ${quotationId} and "status" = 'sent'`,
  );

/** The newest approved revision of the recipe that a revision belongs to. */
export const readApprovedSuccessors = (run: Run, revisionIds: number[]) =>
  run<{ from: number; to: number | null }>(sql`
    select r."id" as "from", (select a."id" from "recipe_revision" a where a."recipeId" = r."recipeId" and a."status" = 'approved') as "to"
      from "recipe_revision" r where r."id" = any(${revisionIds}::int[])`);

/** Sender and addressee of a paper. */
export async function readLetterhead(run: Run, customerId: number) {
  const [row] = await run<{
    shop: { name: string; address: string; contact: string; timeZone: string };
    customerAddress: string;
  }>(sql`
    select jsonb_build_object('name', s."name", 'address', s."address", 'contact', s."contact", 'timeZone', s."timeZone") as "shop",
           coalesce((select a."lines" from "customer_address" a where a."customerId" = ${customerId}
                      order by a."kind" <> 'billing', a."position" limit 1), '') as "customerAddress"
      from "shop" s where s."id" = 1`);
  if (row === undefined) throw new Error('there is no shop row');
  return row;
}
