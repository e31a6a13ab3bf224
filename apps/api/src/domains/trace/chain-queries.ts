import { sql, type Run } from '../../db/client.ts';

/** What a lot came from: part and material as they are, quotation, and the receipt of its line. */
export async function readOrigins(run: Run, lotId: number) {
  const [row] = await run<{
    material: string;
    baseMetal: string;
    areaMm2: number;
    areaMethod: string;
    areaFoundBy: string;
    areaFoundAt: Date;
    quotation: { id: number; number: string; revision: number } | null;
    quotedAt: Date | null;
    quotedBy: string | null;
    orderNumber: string;
    orderedAt: Date;
    orderedBy: string;
    receivedCount: number | null;
    receivedAt: Date | null;
    receivedBy: string | null;
    releasedBy: string;
  }>(sql`
    select concat_ws(', ', m."name", nullif(m."condition", '')) as "material", m."baseMetal", p."areaMm2", p."areaMethod",
           coalesce(fp."displayName", '') as "areaFoundBy", p."areaFoundAt",
           case when q."id" is null then null else jsonb_build_object('id', q."id", 'number', q."number", 'revision', qr."revision") end as "quotation",
           qr."sentAt" as "quotedAt", sp."displayName" as "quotedBy",
           o."number" as "orderNumber", o."createdAt" as "orderedAt", op."displayName" as "orderedBy",
           ol."receivedCount", ol."receivedAt", rp."displayName" as "receivedBy", lp."displayName" as "releasedBy"
      from "lot" l
      join "person" lp on lp."id" = l."createdById"
      join "part" p on p."id" = l."partId"
      join "material" m on m."id" = p."materialId"
      left join "person" fp on fp."id" = p."areaFoundById"
      join "order_line" ol on ol."id" = l."orderLineId"
      left join "person" rp on rp."id" = ol."receivedById"
      join "customer_order" o on o."id" = ol."orderId"
      join "person" op on op."id" = o."createdById"
      left join "quotation_revision" qr on qr."id" = o."quotationRevisionId"
      left join "quotation" q on q."id" = qr."quotationId"
      left join "person" sp on sp."id" = qr."sentById"
     where l."id" = ${lotId}`);
  return row ?? null;
}

/** Audit rows of a lot that no other row tells: what was cancelled, and when. */
export const readCancellation = async (run: Run, lotId: number) =>
  (
    await run<{ at: Date; by: string; reason: string | null }>(sql`
      select "at", "personName" as "by", "reason" from "audit_entry"
       where "recordKind" = 'lot' and "recordId" = ${lotId} and "action" = 'cancelled' order by "id" desc limit 1`)
  )[0] ?? null;
