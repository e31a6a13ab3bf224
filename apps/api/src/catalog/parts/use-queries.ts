import { sql, type SqlExecutor } from '../../db/client.ts';

export interface UseRow {
  id: number;
  number: string;
  status: string;
  createdAt: Date;
}

/** The newest quotations with a line of the part. */
export const readQuotationUses = (execute: SqlExecutor, partId: number) =>
  execute<UseRow>(sql`
    select q."id", q."number" || ' rev ' || r."revision" as "number", r."status", r."createdAt"
      from "quotation_revision" r join "quotation" q on q."id" = r."quotationId"
     where exists (select 1 from "quotation_line" l where l."revisionId" = r."id" and l."partId" = ${partId})
     order by r."id" desc limit 50`);

export const readOrderUses = (execute: SqlExecutor, partId: number) =>
  execute<UseRow>(sql`
    select o."id", o."number", o."status", o."createdAt"
      from "customer_order" o
     where exists (select 1 from "order_line" l where l."orderId" = o."id" and l."partId" = ${partId})
     order by o."id" desc limit 50`);

export const readLotUses = (execute: SqlExecutor, partId: number) =>
  execute<UseRow>(sql`
    select "id", "number", case when "held" then 'on hold' else "status" end as "status", "createdAt"
      from "lot" where "partId" = ${partId} order by "id" desc limit 50`);
