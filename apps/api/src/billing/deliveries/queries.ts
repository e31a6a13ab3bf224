import type { DeliveryFacts, DeliveryNoteItem, DeliveryNoteState, DeliverySheet } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

/** A shipment with all that a delivery note says of it. */
export interface ShipmentRow {
  id: number;
  number: string;
  quantity: number;
  carrier: string;
  document: string;
  shippedAt: Date;
  lot: { id: number; number: string; held: boolean };
  order: { id: number; number: string; customerOrderNumber: string; customerId: number };
  line: {
    id: number;
    position: number;
    ordered: number;
    rejected: number;
    /** Every shipment of the line there ever was, this one among them. */
    shipments: { id: number; quantity: number }[];
  };
  part: { number: string; revision: string; description: string };
  certificates: string[];
  certificateDue: boolean;
  /** The note that covers it. */
  note: string | null;
}

const standing = (shipmentId: Prisma.Sql) => sql`(
  select n."number" from "delivery_line" d join "delivery_note" n on n."id" = d."noteId" and n."withdrawnAt" is null
   where d."shipmentId" = ${shipmentId})`;

const shipmentRows = (which: Prisma.Sql) => sql`
  select h."id", h."number", h."quantity", h."carrier", h."document", h."shippedAt",
         jsonb_build_object('id', l."id", 'number', l."number", 'held', l."held") as "lot",
         jsonb_build_object('id', o."id", 'number', o."number", 'customerOrderNumber', o."customerOrderNumber", 'customerId', o."customerId") as "order",
         jsonb_build_object('id', ol."id", 'position', ol."position", 'ordered', ol."quantity", 'rejected', x."rejected", 'shipments', x."shipments") as "line",
         jsonb_build_object('number', p."part" ->> 'number', 'revision', p."part" ->> 'revision', 'description', p."part" ->> 'description') as "part",
         array(select c."number" || ' revision ' || c."revision" from "certificate" c
                where c."shipmentId" = h."id" and c."withdrawnAt" is null
                  and not exists (select from "certificate" s where s."replacesId" = c."id")) as "certificates",
         exists (select from "certificate_due" e where e."shipmentId" = h."id") as "certificateDue",
         ${standing(sql`h."id"`)} as "note"
    from "shipment" h
    join "lot" l on l."id" = h."lotId"
    join "order_line" ol on ol."id" = l."orderLineId"
    join "customer_order" o on o."id" = ol."orderId"
    cross join lateral (select l."snapshot" -> 'part' as "part") p
    cross join lateral (
      select (select coalesce(sum(b."rejectedCount"), 0)::int from "lot" b
               where b."orderLineId" = ol."id" and b."status" <> 'cancelled') as "rejected",
             (select jsonb_agg(jsonb_build_object('id', s."id", 'quantity', s."quantity") order by s."id")
                from "lot" b join "shipment" s on s."lotId" = b."id" where b."orderLineId" = ol."id") as "shipments") x
   where ${which}`;

/** The shipments, held against another note in the order of their ids. */
export async function lockShipments(execute: SqlExecutor, ids: readonly number[]): Promise<ShipmentRow[]> {
  await execute(sql`select 1 from "shipment" where "id" = any(${[...ids]}::int[]) order by "id" for update`);
  return execute<ShipmentRow>(
    sql`${shipmentRows(sql`h."id" = any(${[...ids]}::int[])`)} order by o."id", ol."position", h."id"`,
  );
}
export const readCustomerOfShipment = async (execute: SqlExecutor, id: number) =>
  (
    await execute<DeliverySheet['customer']>(sql`
      select c."id", c."number", c."name" from "shipment" h join "lot" l on l."id" = h."lotId"
        join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId"
        join "customer" c on c."id" = o."customerId" where h."id" = ${id}`)
  )[0] ?? null;
/** Addresses of a customer: those for deliveries first. */
export const readAddresses = async (execute: SqlExecutor, customerId: number): Promise<string[]> =>
  (
    await execute<{ lines: string }>(sql`
      select "lines" from "customer_address" where "customerId" = ${customerId}
       order by array_position(array['delivery', 'billing', 'other'], "kind"), "position"`)
  ).map(({ lines }) => lines);
/** The most shipments that one note gathers. */
const MOST = 200;
/** Shipments of a customer that no note covers: one of them in any case, and the newest. */
export const readOpenShipments = (
  execute: SqlExecutor,
  { customerId, shipmentId }: { customerId: number; shipmentId: number },
) =>
  execute<ShipmentRow>(sql`
    ${shipmentRows(sql`o."customerId" = ${customerId} and ${standing(sql`h."id"`)} is null
      and (h."id" = ${shipmentId} or exists (select from "delivery_due" w where w."shipmentId" = h."id"))`)}
     order by h."id" desc limit ${MOST}`);
export const lockLots = (execute: SqlExecutor, ids: readonly number[]) =>
  execute(sql`select 1 from "lot" where "id" = any(${[...ids]}::int[]) order by "id" for share`);

export async function addNote(
  db: Queryable,
  {
    shipmentIds,
    facts,
    ...note
  }: { number: string; facts: DeliveryFacts; issuedById: number; shipmentIds: readonly number[] },
) {
  const row = await db.prisma.deliveryNote.create({
    data: { ...note, facts },
    select: { id: true, issuedAt: true },
  });
  await db.prisma.deliveryLine.createMany({
    data: shipmentIds.map((shipmentId) => ({ noteId: row.id, shipmentId })),
  });
  await db.execute(sql`delete from "delivery_due" where "shipmentId" = any(${[...shipmentIds]}::int[])`);
  return row;
}

const pieces = sql`(select coalesce(sum(s."quantity"), 0)::int from "delivery_line" d join "shipment" s on s."id" = d."shipmentId" where d."noteId" = n."id")`;
const head = sql`
  n."id", n."number", case when n."withdrawnAt" is null then 'stands' else 'withdrawn' end as "state",
  (select o."customerId" from "delivery_line" d join "shipment" s on s."id" = d."shipmentId" join "lot" l on l."id" = s."lotId"
     join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId" where d."noteId" = n."id" limit 1) as "customerId",
  n."facts" -> 'customer' ->> 'name' as "customer",
  (select string_agg(o ->> 'number', ', ') from jsonb_array_elements(n."facts" -> 'orders') o) as "orders",
  ${pieces} as "pieces", jsonb_array_length(n."facts" -> 'packages') as "packages",
  (select coalesce(sum(r."quantity"), 0)::int from "goods_return" r where r."noteId" = n."id" and r."withdrawnAt" is null) as "returned",
  (select jsonb_agg(jsonb_build_object('id', s."id", 'number', s."number", 'lotId', s."lotId") order by s."id")
     from "delivery_line" d join "shipment" s on s."id" = d."shipmentId" where d."noteId" = n."id") as "shipments",
  n."snapshot" ->> 'issuedBy' as "issuedBy", n."issuedAt"`;

export type ItemRow = Omit<DeliveryNoteItem, 'issuedAt'> & { issuedAt: Date };
export const readItems = (
  execute: SqlExecutor,
  filter: {
    search?: string | undefined;
    state?: DeliveryNoteState | undefined;
    lotId?: number | undefined;
    orderId?: number | undefined;
    after: number | null;
    limit: number;
  },
) =>
  execute<ItemRow>(sql`
    select ${head} from "delivery_note" n where true
      ${filter.state === undefined ? Prisma.empty : sql`and (n."withdrawnAt" is null) = ${filter.state === 'stands'}`}
      ${
        filter.lotId === undefined
          ? Prisma.empty
          : sql`and n."id" in (select d."noteId" from "delivery_line" d join "shipment" s on s."id" = d."shipmentId" where s."lotId" = ${filter.lotId})`
      }
      ${
        filter.orderId === undefined
          ? Prisma.empty
          : sql`and n."id" in (select d."noteId" from "delivery_line" d join "shipment" s on s."id" = d."shipmentId"
                 join "lot" l on l."id" = s."lotId" join "order_line" ol on ol."id" = l."orderLineId" where ol."orderId" = ${filter.orderId})`
      }
      ${
        filter.search
          ? sql`and concat_ws(' ', n."number", n."facts" -> 'customer' ->> 'name', n."facts" ->> 'orders') ilike ${containing(filter.search)}`
          : Prisma.empty
      }
      ${filter.after === null ? Prisma.empty : sql`and n."id" < ${filter.after}`}
     order by n."id" desc limit ${filter.limit + 1}`);

export interface NoteRow extends ItemRow {
  facts: DeliveryFacts;
  withdrawnBy: string | null;
  withdrawnAt: Date | null;
  withdrawReason: string;
  sha256: string;
}
export const readNote = async (execute: SqlExecutor, id: number): Promise<NoteRow | null> =>
  (
    await execute<NoteRow>(sql`
      select ${head}, n."facts", n."snapshot" ->> 'withdrawnBy' as "withdrawnBy", n."withdrawnAt", n."withdrawReason",
             (select encode(p."sha256", 'hex') from "issued_paper" p
               where p."kind" = 'delivery-note' and p."recordId" = n."id" and p."issue" = 1) as "sha256"
        from "delivery_note" n where n."id" = ${id}`)
  )[0] ?? null;
export const lockNote = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "delivery_note" where "id" = ${id} for update`);
export const withdrawNote = async (db: Queryable, id: number, by: { personId: number; reason: string }) => {
  await db.prisma.deliveryNote.update({
    where: { id },
    data: { withdrawnById: by.personId, withdrawnAt: new Date(), withdrawReason: by.reason },
    select: { id: true },
  });
  await db.execute(
    sql`insert into "delivery_due" ("shipmentId") select "shipmentId" from "delivery_line" where "noteId" = ${id} on conflict do nothing`,
  );
};
