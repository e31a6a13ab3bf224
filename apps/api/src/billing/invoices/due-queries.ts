import type { InvoiceDue } from '@huelot/contracts';
import { type Prisma, sql, type SqlExecutor } from '../../db/client.ts';

/** So much for so many pieces. */
export interface Basis {
  total: string;
  quantity: number;
}
/** A shipment with what prices it. */
export interface DueRow {
  id: number;
  number: string;
  shippedAt: Date;
  customerId: number;
  currency: string;
  deliveryNote: string | null;
  lot: { id: number; number: string };
  order: { id: number; number: string; lineId: number; line: number; customerOrderNumber: string };
  part: { number: string; revision: string; description: string };
  /** What no invoice takes and did not come back. */
  pieces: number;
  returned: number;
  quotation: string;
  quoted: boolean;
  /** What the order line comes to, one-off charges included. */
  total: string;
  ordered: number;
  minimumApplied: boolean;
  oneOffs: { label: string; amount: string }[];
  /** Of the line, by their place in `oneOffs`: those that an invoice took. */
  oneOffsTaken: number[];
  /** What invoices took of the line, by price. */
  invoiced: { total: string; quantity: number; pieces: number; net: string }[];
}

/** Whether a line of an invoice counts, is of a credit note that gives back to be invoiced anew, or of another. */
const sign = sql`case when l."creditsLineId" is null then 1 when i."frees" then -1 else 0 end`;

const dueRows = (which: Prisma.Sql) => sql`
  select h."id", h."number", h."shippedAt", o."customerId", o."currency",
         (select n."number" from "delivery_line" d join "delivery_note" n on n."id" = d."noteId" and n."withdrawnAt" is null
           where d."shipmentId" = h."id") as "deliveryNote",
         jsonb_build_object('id', lot."id", 'number', lot."number") as "lot",
         jsonb_build_object('id', o."id", 'number', o."number", 'lineId', ol."id", 'line', ol."position",
           'customerOrderNumber', o."customerOrderNumber") as "order",
         jsonb_build_object('number', lot."snapshot" -> 'part' ->> 'number', 'revision', lot."snapshot" -> 'part' ->> 'revision',
           'description', lot."snapshot" -> 'part' ->> 'description') as "part",
         pieces_to_invoice(h."id") as "pieces",
         (select coalesce(sum(r."quantity"), 0)::int from "goods_return" r where r."shipmentId" = h."id" and r."withdrawnAt" is null) as "returned",
         coalesce((select q."number" || ' revision ' || v."revision" from "quotation_line" k join "quotation_revision" v on v."id" = k."revisionId"
           join "quotation" q on q."id" = v."quotationId" where k."id" = ol."quotationLineId"), '') as "quotation",
         ol."quotationLineId" is not null as "quoted", ol."totalPrice"::text as "total", ol."quantity" as "ordered",
         coalesce((b."buildUp" ->> 'minimumApplied')::boolean and b."quantity" = ol."quantity", false) as "minimumApplied",
         (select coalesce(jsonb_agg(jsonb_build_object('label', x ->> 'label', 'amount', x ->> 'amount') order by place), '[]')
            from jsonb_array_elements(b."buildUp" -> 'oneOffs') with ordinality e (x, place)) as "oneOffs",
         array(select l."oneOffIndex" from "invoice_line" l join "invoice" i on i."id" = l."invoiceId"
                where l."orderLineId" = ol."id" and l."kind" = 'one-off' group by 1 having sum(${sign}) > 0) as "oneOffsTaken",
         (select coalesce(jsonb_agg(t), '[]') from (
            select l."basisTotal"::text as "total", l."basisQuantity" as "quantity", sum(${sign} * l."quantity")::int as "pieces",
                   sum(${sign} * l."net")::text as "net"
              from "invoice_line" l join "invoice" i on i."id" = l."invoiceId"
             where l."orderLineId" = ol."id" and l."kind" = 'pieces' group by l."basisTotal", l."basisQuantity") t) as "invoiced"
    from "shipment" h
    join "lot" on lot."id" = h."lotId"
    join "order_line" ol on ol."id" = lot."orderLineId"
    join "customer_order" o on o."id" = ol."orderId"
    left join lateral (
      select b."buildUp", b."quantity" from "quotation_break" b where b."lineId" = ol."quotationLineId"
       order by b."quantity" <> ol."quantity", b."quantity" limit 1) b on true
   where ${which}
   order by o."id", ol."position", h."id"`;

/** The shipments with their order lines, held against another invoice in the order of their ids. */
export async function lockDue(execute: SqlExecutor, ids: readonly number[]): Promise<DueRow[]> {
  await execute(sql`select 1 from "shipment" where "id" = any(${[...ids]}::int[]) order by "id" for update`);
  await execute(sql`
    select 1 from "order_line" where "id" in (
      select lot."orderLineId" from "shipment" h join "lot" on lot."id" = h."lotId" where h."id" = any(${[...ids]}::int[]))
     order by "id" for update`);
  return execute<DueRow>(dueRows(sql`h."id" = any(${[...ids]}::int[])`));
}
/** What waits of a customer, the first 200 shipments. */
export const readDue = (execute: SqlExecutor, customerId: number) =>
  execute<DueRow>(
    dueRows(sql`h."id" in (
      select w."shipmentId" from "invoice_due" w join "shipment" s on s."id" = w."shipmentId" join "lot" t on t."id" = s."lotId"
        join "order_line" n on n."id" = t."orderLineId" join "customer_order" c on c."id" = n."orderId"
       where c."customerId" = ${customerId} order by w."shipmentId" limit 200)`),
  );

export const readDues = (execute: SqlExecutor) =>
  execute<InvoiceDue>(sql`
    select jsonb_build_object('id', c."id", 'number', c."number", 'name', c."name") as "customer",
           count(*)::int as "shipments", sum(pieces_to_invoice(h."id"))::int as "pieces",
           (min(h."shippedAt") at time zone (select "timeZone" from "shop"))::date::text as "since"
      from "invoice_due" w join "shipment" h on h."id" = w."shipmentId" join "lot" l on l."id" = h."lotId"
      join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId"
      join "customer" c on c."id" = o."customerId"
     group by c."id" order by min(h."shippedAt"), c."id" limit 200`);
