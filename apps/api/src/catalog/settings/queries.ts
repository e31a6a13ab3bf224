import type { NumberedKind, Shop } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export async function readShop(db: Queryable) {
  const shop = await db.prisma.shop.findUniqueOrThrow({ where: { id: 1 }, omit: { id: true } });
  return { ...shop, units: shop.units as Shop['units'] };
}
export const lockShop = (execute: SqlExecutor) =>
  execute(sql`select "id" from "shop" where "id" = 1 for update`);
export const changeShop = (db: Queryable, data: Omit<Shop, 'version'>) =>
  db.prisma.shop.update({ where: { id: 1 }, data: { ...data, version: { increment: 1 } } });

/** What the shop keeps in its currency, in words with their count; an empty list in a shop without a price. */
export async function readPricedKinds(execute: SqlExecutor): Promise<string[]> {
  const rows = await execute<{ what: string }>(sql`
    select "count" || ' ' || "kind" as "what" from (values
      ('revisions of the rates', (select count(*) from "rate_card"), 1),
      ('rates of exchange', (select count(*) from "exchange_rate"), 2),
      ('quotations', (select count(*) from "quotation"), 3),
      ('orders', (select count(*) from "customer_order"), 4),
      ('chemicals with a price', (select count(*) from "chemical" where "pricePerKg" is not null), 5),
      ('lots of chemicals with a price', (select count(*) from "chemical_lot" where "pricePerKg" is not null), 6))
      x ("kind", "count", "place")
     where "count" > 0 order by "place"`);
  return rows.map(({ what }) => what);
}

export interface SeriesRow {
  kind: NumberedKind;
  prefix: string;
  digits: number;
  next: number;
}
/** How each kind is numbered, in the order the work runs. */
export const readSeries = (execute: SqlExecutor) =>
  execute<SeriesRow>(sql`
    select "kind", "prefix", "digits", "next" from "number_series"
     order by array_position(array['customer', 'recipe', 'quotation', 'order', 'lot', 'traveler', 'shipment', 'certificate', 'delivery-note', 'invoice', 'credit-note', 'nonconformance', 'impact-assessment', 'customer-letter', 'bath', 'analysis', 'addition'], "kind")`);
/** The series of one kind; no number of it is given until this transaction ends. */
export const lockSeries = (execute: SqlExecutor, kind: NumberedKind) =>
  execute<SeriesRow>(
    sql`select "kind", "prefix", "digits", "next" from "number_series" where "kind" = ${kind} for update`,
  );
/** How many numbers were given of a series that has no gaps, which is moved by issuing only; 0 of any other. */
export async function readGaplessGiven(execute: SqlExecutor, kind: NumberedKind): Promise<number> {
  const [row] = await execute<{ given: number }>(
    sql`select count(*)::int as "given" from "invoice" where "kind" = ${kind} and "number" is not null`,
  );
  return row?.given ?? 0;
}
export async function readSeriesByPrefix(execute: SqlExecutor, prefix: string) {
  const [row] = await execute<Pick<SeriesRow, 'kind'>>(
    sql`select "kind" from "number_series" where lower("prefix") = lower(${prefix})`,
  );
  return row ?? null;
}
export const changeSeries = (db: Queryable, { kind, ...data }: SeriesRow) =>
  db.prisma.numberSeries.update({ where: { kind }, data });
