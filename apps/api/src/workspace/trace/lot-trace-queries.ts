import { sql, type SqlExecutor } from '../../db/client.ts';
import { materialName } from '../../db/snapshots.ts';

/** What a lot came from: part and material as they were when it was released, quotation, and the receipt of its line. */
export async function readOrigins(execute: SqlExecutor, lotId: number) {
  const [row] = await execute<{
    material: string;
    baseMetal: string;
    areaMm2: number;
    areaMethod: string;
    areaFoundBy: string;
    areaFoundAt: string;
    quotation: { id: number; number: string; revision: number } | null;
    quotedAt: Date | null;
    quotedBy: string | null;
    orderNumber: string;
    orderedAt: Date;
    orderedBy: string;
    receipts: {
      kind: 'delivery' | 'correction';
      count: number;
      total: number;
      reason: string;
      by: string;
      at: string;
    }[];
    releasedBy: string;
  }>(sql`
    select ${materialName(sql`p."part"`)} as "material", p."part" -> 'material' ->> 'baseMetal' as "baseMetal",
           (p."part" -> 'areaMm2')::float8 as "areaMm2", p."part" ->> 'areaMethod' as "areaMethod",
           p."part" ->> 'areaFoundBy' as "areaFoundBy", p."part" ->> 'areaFoundAt' as "areaFoundAt",
           case when q."id" is null then null else jsonb_build_object('id', q."id", 'number', q."number", 'revision', qr."revision") end as "quotation",
           qr."sentAt" as "quotedAt", qr."snapshot" ->> 'sentBy' as "quotedBy",
           o."number" as "orderNumber", o."createdAt" as "orderedAt", o."snapshot" ->> 'createdBy' as "orderedBy",
           l."snapshot" ->> 'createdBy' as "releasedBy",
           (select coalesce(jsonb_agg(jsonb_build_object('kind', x."kind", 'count', x."count", 'total', x."total", 'reason', x."reason",
                     'by', x."snapshot" -> 'receivedBy', 'at', to_char(x."receivedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'))
                     order by x."id"), '[]'::jsonb)
              from "order_receipt" x where x."orderLineId" = ol."id") as "receipts"
      from "lot" l
      cross join lateral (select l."snapshot" -> 'part') p ("part")
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
      left join "quotation_revision" qr on qr."id" = o."quotationRevisionId"
      left join "quotation" q on q."id" = qr."quotationId"
     where l."id" = ${lotId}`);
  return row ?? null;
}

/** Audit rows of a lot that no other row tells: what was cancelled, and when. */
export const readCancellation = async (execute: SqlExecutor, lotId: number) =>
  (
    await execute<{ at: Date; by: string; reason: string | null }>(sql`
      select "at", "personName" as "by", "reason" from "audit_entry"
       where "recordKind" = 'lot' and "recordId" = ${lotId} and "action" = 'cancelled' order by "id" desc limit 1`)
  )[0] ?? null;
