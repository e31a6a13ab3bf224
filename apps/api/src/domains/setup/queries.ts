import type { NumberedKind, Shop } from '@huelot/contracts';
import { sql, type Queryable, type Run } from '../../db/client.ts';

export const readShop = (db: Queryable) =>
  db.prisma.shop.findUniqueOrThrow({ where: { id: 1 }, omit: { id: true } });
export const lockShop = (run: Run) => run(sql`select "id" from "shop" where "id" = 1 for update`);
export const changeShop = (db: Queryable, data: Omit<Shop, 'version'>) =>
  db.prisma.shop.update({ where: { id: 1 }, data: { ...data, version: { increment: 1 } } });

export interface SeriesRow {
  kind: NumberedKind;
  prefix: string;
  digits: number;
  next: number;
}
/** How each kind is numbered, in the order the work runs. */
export const readSeries = (run: Run) =>
  run<SeriesRow>(sql`
    select "kind", "prefix", "digits", "next" from "number_series"
     order by array_position(array['customer', 'recipe', 'quotation', 'order', 'lot', 'traveler', 'shipment', 'bath', 'analysis', 'addition'], "kind")`);
/** The series of one kind; no number of it is given until this transaction ends. */
export const lockSeries = (run: Run, kind: NumberedKind) =>
  run<SeriesRow>(
    sql`select "kind", "prefix", "digits", "next" from "number_series" where "kind" = ${kind} for update`,
  );
export const readSeriesByPrefix = (db: Queryable, prefix: string) =>
  db.prisma.numberSeries.findFirst({ where: { prefix: { equals: prefix, mode: 'insensitive' } } });
export const changeSeries = (db: Queryable, { kind, ...data }: SeriesRow) =>
  db.prisma.numberSeries.update({ where: { kind }, data });
