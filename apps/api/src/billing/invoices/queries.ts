import type {
  InvoiceFacts,
  InvoiceItem,
  InvoiceKind,
  InvoiceLine,
  InvoiceState,
  InvoiceSums,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

/** A line of a draft that is still to be written. */
export interface NewLine {
  kind: 'pieces' | 'one-off';
  orderLineId: number;
  shipmentId: number | null;
  oneOffIndex: number | null;
  label: string;
  quantity: number;
  basisTotal: string;
  basisQuantity: number;
  priceReason: string;
  net: string;
}

const creditedOf = sql`(select coalesce(sum(c."gross"), 0) from "invoice" c where c."creditsId" = i."id" and c."issuedAt" is not null)`;
const paidOf = sql`(select coalesce(sum(p."amount"), 0) from "payment" p where p."invoiceId" = i."id" and p."withdrawnAt" is null)`;
const today = sql`(now() at time zone (select "timeZone" from "shop"))::date`;

/** Invoices with what is still open of them, and how they stand today. */
export const standing = sql`(
  select i.*, x."open", case
           when i."issuedAt" is null then 'draft' when i."kind" = 'credit-note' then 'issued'
           when x."open" > 0 then case when i."dueOn" < ${today} then 'overdue' else 'open' end
           when x."credited" >= i."gross" and i."gross" > 0 then 'credited' else 'paid' end as "state"
    from "invoice" i
    cross join lateral (select ${creditedOf} as "credited") k
    cross join lateral (
      select k."credited", case when i."kind" = 'credit-note' or i."issuedAt" is null then 0 else i."gross" - k."credited" - ${paidOf} end as "open") x)`;
const draftNet = sql`(select coalesce(sum(l."net"), 0) from "invoice_line" l where l."invoiceId" = i."id")`;
const head = sql`
  i."id", i."kind", i."number", i."state", jsonb_build_object('id', c."id", 'number', c."number", 'name', coalesce(i."facts" -> 'customer' ->> 'name', c."name")) as "customer",
  i."currency", i."issuedOn"::text as "issuedOn", i."dueOn"::text as "dueOn", coalesce(i."net", ${draftNet})::text as "net",
  coalesce(i."gross", ${draftNet})::text as "gross", i."open"::text as "open"`;

interface Filter {
  search?: string | undefined;
  state?: InvoiceState | undefined;
  customerId?: number | undefined;
  orderId?: number | undefined;
  lotId?: number | undefined;
  after: number | null;
  limit: number;
}
const where = (condition: Prisma.Sql | null) => (condition === null ? Prisma.empty : sql`and ${condition}`);
const ofLines = (which: Prisma.Sql) => sql`i."id" in (
  select l."invoiceId" from "invoice_line" l join "order_line" ol on ol."id" = l."orderLineId" left join "shipment" s on s."id" = l."shipmentId" where ${which})`;
export const readItems = (execute: SqlExecutor, filter: Filter) =>
  execute<InvoiceItem>(sql`
    select ${head} from ${standing} i join "customer" c on c."id" = i."customerId" where true
      ${where(filter.state === undefined ? null : filter.state === 'open' ? sql`i."state" in ('open', 'overdue')` : sql`i."state" = ${filter.state}`)}
      ${where(filter.customerId === undefined ? null : sql`(c."id" = ${filter.customerId} or c."mergedIntoId" = ${filter.customerId})`)}
      ${where(filter.orderId === undefined ? null : ofLines(sql`ol."orderId" = ${filter.orderId}`))}
      ${where(filter.lotId === undefined ? null : ofLines(sql`s."lotId" = ${filter.lotId}`))}
      ${where(filter.search ? sql`concat_ws(' ', i."number", c."number", c."name", i."facts" -> 'customer' ->> 'name', i."facts" ->> 'lines') ilike ${containing(filter.search)}` : null)}
      ${where(filter.after === null ? null : sql`i."id" < ${filter.after}`)}
     order by i."id" desc limit ${filter.limit + 1}`);

export const readSums = async (execute: SqlExecutor): Promise<InvoiceSums> => ({
  items: await execute<InvoiceSums['items'][number]>(sql`
    select i."currency", (count(*) filter (where i."open" > 0))::int as "openCount",
           coalesce(sum(i."open") filter (where i."open" > 0), 0)::text as "open",
           (count(*) filter (where i."state" = 'overdue'))::int as "overdueCount",
           coalesce(sum(i."open") filter (where i."state" = 'overdue'), 0)::text as "overdue",
           (select coalesce(sum(p."amount"), 0) from "payment" p join "invoice" n on n."id" = p."invoiceId"
             where n."currency" = i."currency" and p."withdrawnAt" is null and p."paidOn" > ${today} - 30)::text as "paidLately"
      from ${standing} i where i."kind" = 'invoice' and i."issuedAt" is not null group by i."currency" order by i."currency"`),
});

export interface InvoiceRow extends InvoiceItem {
  kind: InvoiceKind;
  customerId: number;
  paymentDays: number;
  notes: string;
  reason: string;
  frees: boolean;
  credits: { id: number; number: string; issuedOn: string } | null;
  facts: InvoiceFacts | null;
  createdBy: string;
  issuedBy: string | null;
  issuedAt: Date | null;
  version: number;
  hasFile: boolean;
}
export const readInvoice = async (execute: SqlExecutor, id: number): Promise<InvoiceRow | null> =>
  (
    await execute<InvoiceRow>(sql`
      select ${head}, i."customerId", i."paymentDays", i."notes", i."reason", i."frees", i."facts", i."version",
             (select jsonb_build_object('id', o."id", 'number', o."number", 'issuedOn', o."issuedOn") from "invoice" o where o."id" = i."creditsId") as "credits",
             i."snapshot" ->> 'createdBy' as "createdBy", i."snapshot" ->> 'issuedBy' as "issuedBy", i."issuedAt",
             exists (select from "issued_paper" p where p."kind" = 'invoice-file' and p."recordId" = i."id") as "hasFile"
        from ${standing} i join "customer" c on c."id" = i."customerId" where i."id" = ${id}`)
  )[0] ?? null;
export const lockInvoice = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "invoice" where "id" = ${id} for update`);

/** The lines of a draft, with what the record says of each; the price of a piece is left to the caller. */
export const readLines = (execute: SqlExecutor, invoiceId: number) =>
  execute<Omit<InvoiceLine, 'unitPrice'>>(sql`
    select l."id", l."position", l."kind", l."label", l."quantity", l."basisTotal"::text as "basisTotal", l."basisQuantity", l."priceReason", l."net"::text as "net",
           jsonb_build_object('id', o."id", 'number', o."number", 'lineId', ol."id", 'line', ol."position", 'customerOrderNumber', o."customerOrderNumber") as "order",
           (select jsonb_build_object('number', p ->> 'number', 'revision', p ->> 'revision', 'description', p ->> 'description')
              from (select coalesce(lot."snapshot" -> 'part', ol."snapshot" -> 'part') as p) t) as "part",
           case when s."id" is null then null else jsonb_build_object('id', s."id", 'number', s."number",
             'shippedOn', (s."shippedAt" at time zone h."timeZone")::date, 'lot', jsonb_build_object('id', lot."id", 'number', lot."number"),
             'deliveryNote', (select n."number" from "delivery_line" d join "delivery_note" n on n."id" = d."noteId" and n."withdrawnAt" is null
                               where d."shipmentId" = s."id")) end as "shipment",
           l."kind" = 'pieces' and l."priceReason" = '' and exists (
             select from "quotation_break" b where b."lineId" = ol."quotationLineId" and b."quantity" = ol."quantity"
                and (b."buildUp" ->> 'minimumApplied')::boolean) as "minimumApplied"
      from "invoice_line" l
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
      cross join "shop" h
      left join "shipment" s on s."id" = l."shipmentId"
      left join "lot" on lot."id" = s."lotId"
     where l."invoiceId" = ${invoiceId} order by l."position"`);

/** What an invoice says of its customer, as the record stands. */
export const readBilled = async (execute: SqlExecutor, customerId: number) =>
  (
    await execute<
      InvoiceFacts['customer'] & {
        taxRatePercent: number;
        noTaxReason: InvoiceFacts['noTaxReason'];
        paymentDays: number;
      }
    >(sql`
      select c."number", c."name", c."country", c."taxNumber", c."taxRatePercent"::float8 as "taxRatePercent", c."noTaxReason",
             coalesce(c."paymentDays", s."paymentDays") as "paymentDays",
             coalesce((select a."lines" from "customer_address" a where a."customerId" = c."id"
                        order by array_position(array['billing', 'delivery', 'other'], a."kind"), a."position" limit 1), '') as "address"
        from "customer" c cross join "shop" s where c."id" = ${customerId}`)
  )[0] ?? null;
/** The shop's day at a moment, and the day on which what is issued then is due. */
export const readDays = async (
  execute: SqlExecutor,
  { at, paymentDays }: { at: Date; paymentDays: number },
): Promise<{ issuedOn: string; dueOn: string }> => {
  const [row] = await execute<{ issuedOn: string; dueOn: string }>(sql`
    select d::text as "issuedOn", (d + ${paymentDays}::int)::text as "dueOn"
      from "shop" s cross join lateral (select (${at}::timestamptz at time zone s."timeZone")::date as d) x`);
  return row ?? { issuedOn: '', dueOn: '' };
};

export interface NewInvoice {
  kind: InvoiceKind;
  customerId: number;
  creditsId?: number;
  frees?: boolean;
  currency: string;
  paymentDays: number;
  notes: string;
  reason?: string;
  createdById: number;
}
export const addInvoice = (db: Queryable, data: NewInvoice) =>
  db.prisma.invoice.create({ data, select: { id: true } });
export const changeInvoice = (
  db: Queryable,
  id: number,
  data: Pick<NewInvoice, 'currency' | 'paymentDays' | 'notes'>,
) =>
  db.prisma.invoice.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });
export const addLines = (
  db: Queryable,
  invoiceId: number,
  lines: readonly (NewLine & { creditsLineId?: number })[],
) =>
  db.prisma.invoiceLine.createMany({
    data: lines.map((line, index) => ({ ...line, invoiceId, position: index + 1 })),
  });
export const removeLines = (db: Queryable, invoiceId: number) =>
  db.prisma.invoiceLine.deleteMany({ where: { invoiceId } });
export const removeInvoice = (db: Queryable, id: number) =>
  db.prisma.invoice.delete({ where: { id }, select: { id: true } });
export const issueRow = (
  db: Queryable,
  id: number,
  {
    facts,
    number,
    issuedById,
    issuedAt,
  }: { facts: InvoiceFacts; number: string; issuedById: number; issuedAt: Date },
) =>
  db.prisma.invoice.update({
    where: { id },
    data: {
      ...{ facts, number, issuedById, issuedAt, net: facts.net, tax: facts.tax, gross: facts.gross },
      ...{
        taxRatePercent: facts.taxRatePercent,
        issuedOn: new Date(facts.issuedOn),
        dueOn: new Date(facts.dueOn),
      },
    },
    select: { id: true },
  });

/** Pieces on a draft that came back since it was written. */
export const readOverdrawn = (execute: SqlExecutor, invoiceId: number) =>
  execute<{ number: string; pieces: number }>(sql`
    select distinct s."number", -pieces_to_invoice(s."id") as "pieces" from "invoice_line" l join "shipment" s on s."id" = l."shipmentId"
     where l."invoiceId" = ${invoiceId} and l."creditsLineId" is null and pieces_to_invoice(s."id") < 0`);
