import type { GoodsReturn } from '@huelot/contracts';
import { type Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

type Row = Omit<GoodsReturn, 'recordedAt' | 'withdrawn'> & {
  noteId: number;
  recordedAt: Date;
  withdrawnBy: string | null;
  withdrawnAt: Date | null;
  withdrawReason: string;
};
const select = sql`
  select r."id", r."noteId", jsonb_build_object('id', s."id", 'number', s."number") as "shipment",
         jsonb_build_object('id', l."id", 'number', l."number") as "lot",
         r."quantity", r."returnedOn"::text as "returnedOn", r."reason", r."notes", r."snapshot" ->> 'recordedBy' as "recordedBy", r."recordedAt",
         r."snapshot" ->> 'withdrawnBy' as "withdrawnBy", r."withdrawnAt", r."withdrawReason"
    from "goods_return" r join "shipment" s on s."id" = r."shipmentId" join "lot" l on l."id" = s."lotId"`;
const read = async (execute: SqlExecutor, which: Prisma.Sql) =>
  (await execute<Row>(sql`${select} where ${which} order by r."id"`)).map(
    ({ withdrawnBy, withdrawnAt, withdrawReason, ...row }) => ({
      ...row,
      recordedAt: row.recordedAt.toISOString(),
      withdrawn:
        withdrawnAt === null
          ? null
          : { by: withdrawnBy ?? '', at: withdrawnAt.toISOString(), reason: withdrawReason },
    }),
  );
export const readReturnsOfNote = (execute: SqlExecutor, noteId: number) =>
  read(execute, sql`r."noteId" = ${noteId}`);
export const readReturn = async (execute: SqlExecutor, id: number) =>
  (await read(execute, sql`r."id" = ${id}`))[0] ?? null;

/** A shipment of a note with how much of it came back, held; and the shop's day. */
export const lockReturnable = async (
  execute: SqlExecutor,
  { noteId, shipmentId }: { noteId: number; shipmentId: number },
) => {
  await execute(sql`select 1 from "shipment" where "id" = ${shipmentId} for update`);
  const [row] = await execute<{
    number: string;
    lotId: number;
    lot: string;
    quantity: number;
    returned: number;
    shippedOn: string;
    today: string;
  }>(sql`
    select s."number", s."lotId", l."number" as "lot", s."quantity",
           (select coalesce(sum(r."quantity"), 0)::int from "goods_return" r where r."shipmentId" = s."id" and r."withdrawnAt" is null) as "returned",
           (s."shippedAt" at time zone h."timeZone")::date::text as "shippedOn", (now() at time zone h."timeZone")::date::text as "today"
      from "delivery_line" d join "shipment" s on s."id" = d."shipmentId" join "lot" l on l."id" = s."lotId" cross join "shop" h
     where d."noteId" = ${noteId} and s."id" = ${shipmentId}`);
  return row ?? null;
};
export const addReturn = (
  db: Queryable,
  {
    returnedOn,
    ...data
  }: {
    noteId: number;
    shipmentId: number;
    quantity: number;
    returnedOn: string;
    reason: string;
    notes: string;
    recordedById: number;
  },
) =>
  db.prisma.goodsReturn.create({ data: { ...data, returnedOn: new Date(returnedOn) }, select: { id: true } });
export const lockReturn = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "goods_return" where "id" = ${id} for update`);
export const withdrawReturn = (db: Queryable, id: number, by: { personId: number; reason: string }) =>
  db.prisma.goodsReturn.update({
    where: { id },
    data: { withdrawnById: by.personId, withdrawnAt: new Date(), withdrawReason: by.reason },
    select: { id: true },
  });
