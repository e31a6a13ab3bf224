import type { z } from 'zod';
import type { BaseMetal, Order, OrderSummary, RouteStepMetals } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { customerIn, partRef, recipeRef } from '../../db/snapshots.ts';

/** Pieces of a line by where they are; a cancelled lot counts nowhere. */
const progress = sql`
  jsonb_build_object(
    'inLots', coalesce(sum(lot."quantity"), 0),
    'accepted', coalesce(sum(lot."acceptedCount"), 0),
    'rejected', coalesce(sum(lot."rejectedCount"), 0),
    'shipped', coalesce(sum(lot."shippedCount"), 0),
    'toRelease', greatest(0, case when line."cancelledAt" is null
      then least(line."quantity", coalesce(line."receivedCount", 0)) - coalesce(sum(lot."quantity"), 0) else 0 end))`;

/** One order as the wire shows it, or `null`. */
export async function readOrder(execute: SqlExecutor, id: number): Promise<Order | null> {
  const [row] = await execute<{ order: Order }>(sql`
    select jsonb_build_object(
      'id', o."id", 'number', o."number", 'customerOrderNumber', o."customerOrderNumber", 'status', o."status",
      'currency', o."currency", 'notes', o."notes", 'version', o."version",
      'createdAt', to_char(o."createdAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
      'createdBy', o."snapshot" -> 'createdBy',
      'customer', ${customerIn(sql`o."snapshot"`, sql`o."customerId"`)},
      'quotation', (
        select jsonb_build_object('id', q."id", 'number', q."number", 'revision', r."revision")
          from "quotation_revision" r join "quotation" q on q."id" = r."quotationId"
         where r."id" = o."quotationRevisionId"),
      'lines', coalesce((select jsonb_agg(l."line" order by l."position") from (
        select line."position", jsonb_build_object(
          'id', line."id", 'position', line."position", 'rackId', line."rackId", 'supplyId', line."supplyId",
          'quantity', line."quantity", 'unitPrice', line."unitPrice"::text, 'totalPrice', line."totalPrice"::text,
          'dueDate', line."dueDate"::text, 'receivedCount', line."receivedCount",
          'receivedAt', to_char(line."receivedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
          'receipts', (select coalesce(jsonb_agg(jsonb_build_object('id', x."id", 'kind', x."kind", 'count', x."count", 'total', x."total",
              'reason', x."reason", 'receivedBy', x."snapshot" -> 'receivedBy',
              'receivedAt', to_char(x."receivedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) order by x."id"), '[]'::jsonb)
              from "order_receipt" x where x."orderLineId" = line."id"),
          'certificate', line."certificate", 'inspectionLevel', line."inspectionLevel", 'notes', line."notes",
          'cancelled', line."cancelledAt" is not null, 'version', line."version",
          'part', ${partRef(sql`line."snapshot" -> 'part'`)}, 'recipe', ${recipeRef(sql`line."snapshot" -> 'recipe'`, sql`rr`)},
          'progress', ${progress}) as "line"
        from "order_line" line
        join "recipe_revision" rr on rr."id" = line."recipeRevisionId"
        left join "lot" lot on lot."orderLineId" = line."id" and lot."status" <> 'cancelled'
        where line."orderId" = o."id"
        group by line."id", rr."id") l), '[]'::jsonb)) as "order"
    from "customer_order" o
    where o."id" = ${id}`);
  return row?.order ?? null;
}

type SummaryRow = z.input<typeof OrderSummary> & { dueKey: string };

/** Orders by their keys, in the order of the keys. Planned once: it is the same for every list. */
export const readOrdersByIds = async (execute: SqlExecutor, ids: readonly number[]) =>
  ids.length === 0
    ? []
    : execute<SummaryRow>(sql`
    select o."id", o."number", o."customerOrderNumber", o."status", o."currency",
           to_char(o."createdAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "createdAt",
           ${customerIn(sql`o."snapshot"`, sql`o."customerId"`)} as "customer",
           t."day"::text as "dueDate", coalesce(t."day", 'infinity')::text as "dueKey",
           t."lineCount", t."pieces", t."total", s."shipped"
      from unnest(${[...ids]}::int[]) with ordinality k ("id", "place")
      join "customer_order" o on o."id" = k."id"
      cross join lateral (
        select count(*)::int as "lineCount", coalesce(sum("quantity"), 0)::int as "pieces",
               coalesce(sum("totalPrice"), 0)::text as "total", min("dueDate") as "day"
          from "order_line" where "orderId" = o."id" and "cancelledAt" is null) t
      cross join lateral (
        select coalesce(sum(lot."shippedCount"), 0)::int as "shipped"
          from "order_line" l join "lot" on lot."orderLineId" = l."id" where l."orderId" = o."id") s
     order by k."place"`);

export interface NewLine {
  partId: number;
  recipeRevisionId: number;
  quotationLineId: number | null;
  rackId: number | null;
  supplyId: number | null;
  quantity: number;
  unitPrice: string;
  totalPrice: string;
  dueDate: string;
  certificate: boolean;
  inspectionLevel: string;
  notes: string;
}

export const addOrder = (
  db: Queryable,
  options: {
    number: string;
    customerId: number;
    quotationRevisionId: number | null;
    customerOrderNumber: string;
    currency: string;
    notes: string;
    createdById: number;
    lines: NewLine[];
  },
) =>
  db.prisma.order.create({
    data: {
      ...options,
      lines: {
        create: options.lines.map((line, index) => ({
          ...line,
          position: index + 1,
          dueDate: new Date(line.dueDate),
        })),
      },
    },
    select: { id: true },
  });

/** Books a delivery, or a correction of the count. */
export const addReceipt = (
  db: Queryable,
  data: {
    orderLineId: number;
    kind: 'delivery' | 'correction';
    count: number;
    total: number;
    reason: string;
    receivedById: number;
  },
) => db.prisma.orderReceipt.create({ data, select: { id: true } });

/** Locks an order for the transaction; `null` when there is none. */
export async function lockOrder(execute: SqlExecutor, id: number) {
  const [row] = await execute<{ id: number; number: string; status: string; version: number }>(
    sql`select "id", "number", "status", "version" from "customer_order" where "id" = ${id} for update`,
  );
  return row ?? null;
}

/** Locks a line with its order; `null` when there is none. */
export async function lockLine(execute: SqlExecutor, id: number) {
  const [row] = await execute<{
    id: number;
    orderId: number;
    orderNumber: string;
    orderStatus: string;
    position: number;
    partId: number;
    recipeRevisionId: number;
    quantity: number;
    totalPrice: string;
    currency: string;
    dueDate: string;
    notes: string;
    receivedCount: number | null;
    cancelled: boolean;
    version: number;
    inLots: number;
    shipped: number;
    /** Every piece is shipped or rejected. */
    finished: boolean;
  }>(sql`
    select l."id", l."orderId", o."number" as "orderNumber", o."status" as "orderStatus", l."position", l."partId",
           l."recipeRevisionId", l."quantity", l."totalPrice"::text as "totalPrice", o."currency", l."dueDate"::text as "dueDate",
           l."notes", l."receivedCount", l."cancelledAt" is not null as "cancelled", l."version",
           x."inLots", x."shipped", x."shipped" + x."rejected" >= l."quantity" as "finished"
      from "order_line" l join "customer_order" o on o."id" = l."orderId"
      cross join lateral (
        select coalesce(sum(lot."quantity"), 0)::int as "inLots", coalesce(sum(lot."shippedCount"), 0)::int as "shipped",
               coalesce(sum(lot."rejectedCount"), 0)::int as "rejected"
          from "lot" where lot."orderLineId" = l."id" and lot."status" <> 'cancelled') x
     where l."id" = ${id}
       for update of l, o`);
  return row ?? null;
}

export const changeOrder = (
  db: Queryable,
  id: number,
  data: { customerOrderNumber?: string; notes?: string; status?: string },
) =>
  db.prisma.order.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });

export const changeLine = (
  db: Queryable,
  id: number,
  data: {
    quantity?: number;
    totalPrice?: string;
    unitPrice?: string;
    dueDate?: Date;
    recipeRevisionId?: number;
    notes?: string;
    receivedCount?: number;
    receivedAt?: Date;
    receivedById?: number;
    cancelledAt?: Date;
  },
) =>
  db.prisma.orderLine.update({
    where: { id },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });

export const cancelOpenLines = (db: Queryable, orderId: number) =>
  db.prisma.orderLine.updateMany({
    where: { orderId, cancelledAt: null },
    data: { cancelledAt: new Date(), version: { increment: 1 } },
  });

export const liveLotCount = (db: Queryable, orderId: number) =>
  db.prisma.lot.count({ where: { orderLine: { orderId }, status: { not: 'cancelled' } } });

/** What an order line must agree with: the customer of the part, and the state of the recipe revision. */
export async function readLineFacts(
  execute: SqlExecutor,
  { partId, recipeRevisionId }: { partId: number; recipeRevisionId: number },
) {
  const [row] = await execute<{
    customerId: number | null;
    partArchived: boolean;
    baseMetal: string | null;
    recipeStatus: string | null;
    baseMetals: string[] | null;
  }>(sql`
    select p."customerId", p."archivedAt" is not null as "partArchived", m."baseMetal", r."status" as "recipeStatus", re."baseMetals"
      from (select 1) one
      left join "part" p on p."id" = ${partId}
      left join "material" m on m."id" = p."materialId"
      left join "recipe_revision" r on r."id" = ${recipeRevisionId}
      left join "recipe" re on re."id" = r."recipeId"`);
  return row ?? null;
}

/** The metals of a part and a rack in use, and the route they go through together; `null` when one is unknown. */
export async function readRouteMetals(
  execute: SqlExecutor,
  input: { partId: number; recipeRevisionId: number; rackId: number },
) {
  const [row] = await execute<{
    rackCode: string;
    rackMetal: BaseMetal;
    partMetal: BaseMetal;
    steps: RouteStepMetals[];
  }>(sql`
    select k."code" as "rackCode", k."baseMetal" as "rackMetal", m."baseMetal" as "partMetal",
           (select coalesce(jsonb_agg(jsonb_build_object('position', s."position", 'contents', s."contents",
                     'electrical', s."electrical") order by s."position"), '[]'::jsonb)
              from "recipe_step" s where s."revisionId" = ${input.recipeRevisionId}) as "steps"
      from "rack" k, "part" p join "material" m on m."id" = p."materialId"
     where k."id" = ${input.rackId} and k."archivedAt" is null and p."id" = ${input.partId}`);
  return row ?? null;
}

/** Marks an order complete once nothing of it is left to do, or open again when something is. */
export const refreshOrderStatus = (execute: SqlExecutor, orderId: number) =>
  execute(sql`
    update "customer_order" o set "status" = t."status", "version" = o."version" + 1
      from (
        select case when bool_and(l."cancelledAt" is not null or l."done") then 'complete' else 'open' end as "status"
          from (
            select l."cancelledAt",
                   coalesce(sum(lot."shippedCount" + lot."rejectedCount"), 0) >= l."quantity" as "done"
              from "order_line" l left join "lot" on lot."orderLineId" = l."id" and lot."status" <> 'cancelled'
             where l."orderId" = ${orderId} group by l."id") l) t
     where o."id" = ${orderId} and o."status" <> 'cancelled' and o."status" <> t."status"`);
