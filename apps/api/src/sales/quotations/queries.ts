import type { BuildUp, Quotation, QuotationDraft, QuotationSummary, QuotedEvidence } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { customerIn, materialName, partRef, recipeRef } from '../../db/snapshots.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
export const today = sql`(select (now() at time zone "timeZone")::date from "shop")`;
/** A sent revision past its day has lapsed, whether or not anybody booked it. */
export const status = (r: Prisma.Sql) =>
  sql`case when ${r}."status" = 'sent' and ${r}."validUntil" < ${today} then 'lapsed' else ${r}."status" end`;
/** What a revision shows of its customer: of a sent one what it was sent with, of a draft what stands today. */
const addressed = (r: Prisma.Sql) =>
  sql`case when ${r}."snapshot" ? 'customer' then ${r}."snapshot" else jsonb_build_object('customer', snapshot_of('customer', q."customerId")) end`;

/** What the prices of a revision were exchanged at; rates are never edited. */
const exchange = sql`case when e."id" is not null then jsonb_build_object('id', e."id", 'baseCurrency', e."baseCurrency",
  'currency', e."currency", 'rate', trim_scale(e."rate")::text, 'day', e."day"::text, 'source', e."source") end`;

const [p, re] = [sql`s."part"`, sql`s."recipe"`];
const lines = sql`
  select coalesce(jsonb_agg(jsonb_build_object(
      'id', l."id", 'position', l."position", 'rackId', l."rackId", 'supplyId', l."supplyId", 'options', l."options",
      'inspectionLevel', l."options" ->> 'inspectionLevel', 'certificate', l."options" -> 'certificate', 'packing', l."options" ->> 'packing',
      'expedite', l."options" -> 'expedite', 'oneOffs', (
        select coalesce(jsonb_agg(jsonb_build_object('label', x.one ->> 'label', 'amount', x.one ->> 'amount', 'trial', (
                 select jsonb_build_object('id', t."id", 'number', t."number") from "trial_run" t
                  where t."id" = (l."options" -> 'oneOffs' -> (x.place::int - 1) ->> 'trialRunId')::int)) order by x.place), '[]'::jsonb)
          from jsonb_array_elements(coalesce(
                 (select b."buildUp" -> 'oneOffs' from "quotation_break" b where b."lineId" = l."id" limit 1),
                 l."options" -> 'oneOffs')) with ordinality x (one, place)),
      'piecesPerLoad', coalesce((select b."buildUp" -> 'plan' -> 'piecesPerLoad' from "quotation_break" b where b."lineId" = l."id" limit 1), '0'::jsonb),
      'bindingLimit', coalesce((select (select string_agg(x ->> 'label', ' and ') from jsonb_array_elements(b."buildUp" -> 'plan' -> 'limits') x
           where b."buildUp" -> 'plan' -> 'binding' ? (x ->> 'key')) from "quotation_break" b where b."lineId" = l."id" limit 1), ''),
      'areaMm2', ${p} -> 'areaMm2', 'areaMethod', ${p} -> 'areaMethod', 'maskedAreaMm2', ${p} -> 'maskedAreaMm2', 'massKg', ${p} -> 'massKg',
      'material', ${materialName(p)},
      'specification', concat_ws(' ', nullif(${p} ->> 'specification', ''), nullif(${p} ->> 'specificationRevision', '')),
      'recipeColour', coalesce(${re} ->> 'colour', ''),
      'part', ${partRef(p)}, 'recipe', ${recipeRef(re, sql`rr`)},
      'materialId', ${p} -> 'material' -> 'id', 'evidence', l."evidence",
      'breaks', (select coalesce(jsonb_agg(jsonb_build_object('id', b."id", 'quantity', b."quantity", 'totalPrice', b."totalPrice"::text,
                   'unitPrice', b."unitPrice"::text, 'loads', b."loads", 'buildUp', b."buildUp") order by b."quantity"), '[]'::jsonb)
                   from "quotation_break" b where b."lineId" = l."id")) order by l."position"), '[]'::jsonb)
    from "quotation_line" l
    join "recipe_revision" rr on rr."id" = l."recipeRevisionId"
    cross join lateral (
      select coalesce(kept -> 'part', snapshot_of('part', l."partId")) as "part",
             coalesce(kept -> 'recipe', snapshot_of('recipe', l."recipeRevisionId")) as "recipe"
        from (select r."snapshot" -> 'lines' -> l."id"::text) x (kept)) s
   where l."revisionId" = r."id"`;

/** One quotation with one revision in full, the last unless `revision` names another; `null` when there is none. */
export async function readQuotation(
  execute: SqlExecutor,
  { revision, id }: { id: number; revision?: number | undefined },
): Promise<Quotation | null> {
  const [row] = await execute<{ quotation: Quotation }>(sql`
    select jsonb_build_object(
      'id', q."id", 'number', q."number", 'version', r."version",
      'customer', ${customerIn(addressed(sql`r`), sql`q."customerId"`)},
      'order', (select jsonb_build_object('id', o."id", 'number', o."number") from "customer_order" o
                  join "quotation_revision" x on x."id" = o."quotationRevisionId" where x."quotationId" = q."id" limit 1),
      'enquiry', (select jsonb_build_object('id', n."id", 'number', n."number") from "enquiry" n where n."quotationId" = q."id"),
      'revisions', (select jsonb_agg(jsonb_build_object('id', x."id", 'revision', x."revision", 'status', ${status(sql`x`)},
          'createdAt', ${instant(sql`x."createdAt"`)}, 'sentAt', ${instant(sql`x."sentAt"`)}) order by x."revision" desc)
          from "quotation_revision" x where x."quotationId" = q."id"),
      'shown', jsonb_build_object(
        'id', r."id", 'revision', r."revision", 'status', ${status(sql`r`)}, 'contactName', r."contactName",
        'enquiryReference', r."enquiryReference", 'validUntil', r."validUntil"::text, 'leadTimeDays', r."leadTimeDays",
        'currency', r."currency", 'exchange', ${exchange}, 'taxRatePercent', r."taxRatePercent"::float8, 'terms', r."terms", 'customerNotes', r."customerNotes",
        'internalNotes', r."internalNotes", 'rateCardId', r."rateCardId", 'rateCardRevision', rc."revision", 'calcVersion', r."calcVersion",
        'createdBy', r."snapshot" -> 'createdBy', 'createdAt', ${instant(sql`r."createdAt"`)},
        'sentAt', ${instant(sql`r."sentAt"`)}, 'sentBy', r."snapshot" -> 'sentBy',
        'decidedAt', ${instant(sql`r."decidedAt"`)}, 'decisionReason', r."decisionReason", 'version', r."version", 'lines', (${lines}))) as "quotation"
    from "quotation" q
    join lateral (
      select * from "quotation_revision" x where x."quotationId" = q."id"
         ${revision === undefined ? Prisma.empty : sql`and x."revision" = ${revision}`}
       order by x."revision" desc limit 1) r on true
    left join "exchange_rate" e on e."id" = r."exchangeRateId"
    join "rate_card" rc on rc."id" = r."rateCardId"
    where q."id" = ${id}`);
  return row?.quotation ?? null;
}

/** Quotations by their keys, the newest first. Planned once: it is the same for every list. */
export const readQuotationsByIds = async (execute: SqlExecutor, ids: readonly number[]) =>
  ids.length === 0
    ? []
    : execute<z.input<typeof QuotationSummary>>(sql`
    select q."id", q."number", ${customerIn(addressed(sql`r`), sql`q."customerId"`)} as "customer",
           r."revision", r."status", i."issued", r."currency", r."exchangeRate", r."validUntil"::text as "validUntil", ${instant(sql`q."createdAt"`)} as "createdAt",
           t."lineCount", t."lowest", t."highest"
      from "quotation" q
      join lateral (
        select x."id", x."revision", x."snapshot", ${status(sql`x`)} as "status", x."currency", x."validUntil",
               (select trim_scale(e."rate")::text from "exchange_rate" e where e."id" = x."exchangeRateId") as "exchangeRate"
          from "quotation_revision" x where x."quotationId" = q."id" order by x."revision" desc limit 1) r on true
      left join lateral (
        select jsonb_build_object('revision', x."revision", 'status', ${status(sql`x`)}) as "issued"
          from "quotation_revision" x
         where x."quotationId" = q."id" and x."status" <> 'draft' and r."status" = 'draft'
         order by x."revision" desc limit 1) i on true
      cross join lateral (
        select count(distinct l."id")::int as "lineCount", min(b."totalPrice")::text as "lowest", max(b."totalPrice")::text as "highest"
          from "quotation_line" l left join "quotation_break" b on b."lineId" = l."id" where l."revisionId" = r."id") t
     where q."id" = any(${[...ids]}::int[]) order by q."id" desc`);

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
  exchangeRateId: number | null;
}

export const addQuotation = (
  db: Queryable,
  options: { number: string; customerId: number; createdById: number },
) => db.prisma.quotation.create({ data: options, select: { id: true } });

export const addRevision = (
  db: Queryable,
  options: RevisionText & {
    quotationId: number;
    revision: number;
    currency: string;
    calcVersion: string;
    createdById: number;
  },
) =>
  db.prisma.quotationRevision.create({
    data: { ...options, validUntil: new Date(options.validUntil) },
    select: { id: true },
  });

export const changeRevision = (
  db: Queryable,
  id: number,
  data: Partial<
    Omit<RevisionText, 'validUntil'> & {
      validUntil: Date;
      calcVersion: string;
      currency: string;
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

/** Takes a draft out, and the quotation with it where it was all there was. */
export async function removeDraft(
  db: Queryable,
  { id, revisionId, whole }: { id: number; revisionId: number; whole: boolean },
): Promise<void> {
  await replaceLines(db, revisionId, []);
  await db.prisma.quotationRevision.delete({ where: { id: revisionId } });
  if (whole) await db.prisma.quotation.delete({ where: { id } });
}

/** Locks a quotation, so that two people never decide about it at once. */
export const lockQuotation = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "quotation" where "id" = ${id} for update`);

/** Supersedes what was out with the customer before. */
export const supersedeSent = (execute: SqlExecutor, quotationId: number) =>
  execute(
    sql`update "quotation_revision" set "status" = 'superseded', "version" = "version" + 1 where "quotationId" = ${quotationId} and "status" = 'sent'`,
  );

/** The last revision of each of these parts. */
export const readLastRevisions = (execute: SqlExecutor, partIds: number[]) =>
  execute<{ from: number; to: number }>(sql`
    with recursive chain as (
      select "id" as "from", "id" as "to", "successorId" from "part" where "id" = any(${partIds}::int[])
      union all
      select c."from", p."id", p."successorId" from chain c join "part" p on p."id" = c."successorId")
    select "from", "to" from chain where "successorId" is null`);

/** The newest approved revision of the recipe that a revision belongs to. */
export const readApprovedSuccessors = (execute: SqlExecutor, revisionIds: number[]) =>
  execute<{ from: number; to: number | null }>(sql`
    select r."id" as "from", (select a."id" from "recipe_revision" a where a."recipeId" = r."recipeId" and a."status" = 'approved') as "to"
      from "recipe_revision" r where r."id" = any(${revisionIds}::int[])`);

/** Sender and addressee of a paper: of a sent revision as they were then; in metric units where none were kept yet. */
export async function readLetterhead(execute: SqlExecutor, revisionId: number) {
  const [row] = await execute<{
    shop: { name: string; address: string; contact: string; timeZone: string };
    customer: { address: string; units: 'metric' | 'us' };
    sentById: number | null;
  }>(sql`
    select coalesce(r."snapshot" -> 'shop', snapshot_of('shop', 1)) as "shop",
           '{"units": "metric"}'::jsonb || (${addressed(sql`r`)} -> 'customer') as "customer", r."sentById"
      from "quotation_revision" r join "quotation" q on q."id" = r."quotationId" where r."id" = ${revisionId}`);
  return orNotFound(row, `quotation revision ${revisionId}`);
}

/** Keeps with a line what the evidence said when it was sent. */
export const keepEvidence = (execute: SqlExecutor, lineId: number, evidence: QuotedEvidence) =>
  execute(
    sql`update "quotation_line" set "evidence" = ${JSON.stringify(evidence)}::jsonb where "id" = ${lineId}`,
  );
