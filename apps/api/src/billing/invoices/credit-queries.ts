import type { Invoice } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

export const readCreditNotes = (execute: SqlExecutor, invoiceId: number) =>
  execute<Invoice['creditNotes'][number]>(sql`
    select "id", "number", "issuedOn"::text as "issuedOn", "net"::text as "net", "gross"::text as "gross"
      from "invoice" where "creditsId" = ${invoiceId} and "issuedAt" is not null order by "id"`);

/** What no credit note gave back of each line, and how many of its pieces came back without one. */
export const readLeft = (execute: SqlExecutor, invoiceId: number) =>
  execute<Invoice['left'][number]>(sql`
    select l."id" as "lineId", (l."quantity" - k."quantity")::int as "quantity", (l."net" - k."net")::text as "net",
           case when l."shipmentId" is null then 0 else greatest(0, least(l."quantity" - k."quantity",
             -pieces_to_invoice(l."shipmentId") - (
               select coalesce(sum(c."quantity"), 0) from "invoice_line" c join "invoice" n on n."id" = c."invoiceId"
                where c."shipmentId" = l."shipmentId" and c."creditsLineId" is not null and not n."frees")))::int end as "returned"
      from "invoice_line" l
      cross join lateral (
        select coalesce(sum(c."quantity"), 0) as "quantity", coalesce(sum(c."net"), 0) as "net" from "invoice_line" c where c."creditsLineId" = l."id") k
     where l."invoiceId" = ${invoiceId} order by l."position"`);

/** The lines of an issued invoice as a credit note takes them over. */
export const readCreditable = (execute: SqlExecutor, invoiceId: number) =>
  execute<{
    id: number;
    kind: 'pieces' | 'one-off';
    orderLineId: number;
    shipmentId: number | null;
    oneOffIndex: number | null;
    label: string;
    basisTotal: string;
    basisQuantity: number;
    priceReason: string;
    quantity: number;
    net: string;
  }>(sql`
    select "id", "kind", "orderLineId", "shipmentId", "oneOffIndex", "label", "basisTotal"::text as "basisTotal", "basisQuantity", "priceReason",
           "quantity", "net"::text as "net" from "invoice_line" where "invoiceId" = ${invoiceId} order by "position"`);
/** The tax that credit notes of an invoice gave back so far, and the tax of the invoice. */
export const readTaxes = async (execute: SqlExecutor, invoiceId: number) =>
  (
    await execute<{ tax: string; credited: string }>(sql`
      select i."tax"::text as "tax", (select coalesce(sum(c."tax"), 0) from "invoice" c where c."creditsId" = i."id" and c."issuedAt" is not null)::text as "credited"
        from "invoice" i where i."id" = ${invoiceId}`)
  )[0] ?? { tax: '0', credited: '0' };
