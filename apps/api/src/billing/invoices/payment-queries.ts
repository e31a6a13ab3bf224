import type { PaymentRow } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { standing } from './queries.ts';

export interface OpenInvoice {
  id: number;
  number: string;
  customer: string;
  open: string;
}

type Row = Omit<PaymentRow, 'recordedAt' | 'withdrawn'> & {
  recordedAt: Date;
  withdrawnBy: string | null;
  withdrawnAt: Date | null;
  withdrawReason: string;
};
export const readPayments = async (execute: SqlExecutor, invoiceId: number): Promise<PaymentRow[]> =>
  (
    await execute<Row>(sql`
      select "id", "amount"::text as "amount", "paidOn"::text as "paidOn", "reference", "bankKey" is not null as "fromBank", "recordedAt",
             "snapshot" ->> 'recordedBy' as "recordedBy", "snapshot" ->> 'withdrawnBy' as "withdrawnBy", "withdrawnAt", "withdrawReason"
        from "payment" where "invoiceId" = ${invoiceId} order by "paidOn", "id"`)
  ).map(({ recordedAt, withdrawnBy, withdrawnAt, withdrawReason, ...row }) => ({
    ...row,
    recordedAt: recordedAt.toISOString(),
    withdrawn:
      withdrawnAt === null
        ? null
        : { by: withdrawnBy ?? '', at: withdrawnAt.toISOString(), reason: withdrawReason },
  }));

export const addPayment = (
  db: Queryable,
  data: {
    invoiceId: number;
    amount: string;
    paidOn: Date;
    reference: string;
    bankKey: string | null;
    recordedById: number;
  },
) => db.prisma.payment.create({ data, select: { id: true } });
export const lockPayment = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "payment" where "id" = ${id} for update`);
export const readPayment = (db: Queryable, id: number) =>
  db.prisma.payment.findUnique({
    where: { id },
    include: { invoice: { select: { number: true, currency: true } } },
  });
export const withdrawPayment = (db: Queryable, id: number, by: { personId: number; reason: string }) =>
  db.prisma.payment.update({
    where: { id },
    data: { withdrawnById: by.personId, withdrawnAt: new Date(), withdrawReason: by.reason },
    select: { id: true },
  });

/** Invoices of a currency that are not paid in full, the longest due first; or those named, however they stand. */
export const readOpenInvoices = (execute: SqlExecutor, currency: string, ids?: readonly number[]) =>
  execute<OpenInvoice>(sql`
    select i."id", i."number", i."facts" -> 'customer' ->> 'name' as "customer", i."open"::text as "open" from ${standing} i
     where i."kind" = 'invoice' and i."number" is not null and i."currency" = ${currency}
       and ${ids === undefined ? sql`i."open" > 0` : sql`i."id" = any(${[...ids]}::int[])`}
     order by i."dueOn", i."id" limit 1000`);
/** Lines of the bank that stand booked. */
export const readBooked = (execute: SqlExecutor, keys: readonly string[]) =>
  execute<{ key: string; number: string }>(sql`
    select p."bankKey" as "key", i."number" from "payment" p join "invoice" i on i."id" = p."invoiceId"
     where p."withdrawnAt" is null and p."bankKey" = any(${[...keys]}::text[])`);
