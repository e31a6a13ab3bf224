import type { exportAccounting } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, type SqlExecutor } from '../../db/client.ts';
import type { Cell } from '../../http/csv.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { csvLimit } from '../../http/csv.ts';

export const accountingHeads = [
  ...['date', 'kind', 'number', 'corrects', 'customerNumber', 'customer', 'customerTaxNumber', 'currency'],
  ...['net', 'taxRatePercent', 'noTaxReason', 'tax', 'gross', 'dueOn', 'reference'],
];
interface Row {
  date: string;
  kind: string;
  number: string;
  corrects: string;
  customerNumber: string;
  customer: string;
  customerTaxNumber: string;
  currency: string;
  net: number | null;
  taxRatePercent: number | null;
  noTaxReason: string;
  tax: number | null;
  gross: number;
  dueOn: string;
  reference: string;
}

/**
 * What was issued and paid in a period, both days included. What a credit note gives back stands below 0, and so does what was
 * paid back. A payment that was taken back is not in it.
 */
export async function accountingRows(
  execute: SqlExecutor,
  { from, to }: z.output<typeof exportAccounting.query>,
): Promise<Cell[][]> {
  if (to < from) throw fieldError('to', `must be ${from} or later`);
  const rows = await execute<Row>(sql`
    select x.* from (
      select i."issuedOn"::text as "date", i."kind", i."number", coalesce(o."number", '') as "corrects", i."facts" -> 'customer' ->> 'number' as "customerNumber",
             i."facts" -> 'customer' ->> 'name' as "customer", i."facts" -> 'customer' ->> 'taxNumber' as "customerTaxNumber", i."currency",
             (s * i."net")::float8 as "net", i."taxRatePercent"::float8 as "taxRatePercent",
             case when i."taxRatePercent" = 0 then i."facts" ->> 'noTaxReason' else '' end as "noTaxReason",
             (s * i."tax")::float8 as "tax", (s * i."gross")::float8 as "gross",
             case when i."kind" = 'invoice' then i."dueOn"::text else '' end as "dueOn", i."reason" as "reference", 1 as "place", i."id"
        from "invoice" i left join "invoice" o on o."id" = i."creditsId"
       cross join lateral (select case when i."kind" = 'invoice' then 1 else -1 end as s) sign
       where i."issuedOn" between ${from}::date and ${to}::date
      union all
      select p."paidOn"::text, 'payment', i."number", '', i."facts" -> 'customer' ->> 'number', i."facts" -> 'customer' ->> 'name',
             i."facts" -> 'customer' ->> 'taxNumber', i."currency", null, null, '', null, p."amount"::float8, '', p."reference", 2, p."id"
        from "payment" p join "invoice" i on i."id" = p."invoiceId"
       where p."withdrawnAt" is null and p."paidOn" between ${from}::date and ${to}::date) x
     order by x."date", x."place", x."id" limit ${csvLimit + 1}`);
  return rows.map((row) => [
    ...[
      row.date,
      row.kind,
      row.number,
      row.corrects,
      row.customerNumber,
      row.customer,
      row.customerTaxNumber,
    ],
    ...[
      row.currency,
      row.net,
      row.taxRatePercent,
      row.noTaxReason,
      row.tax,
      row.gross,
      row.dueOn,
      row.reference,
    ],
  ]);
}
