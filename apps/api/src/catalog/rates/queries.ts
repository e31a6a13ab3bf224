import type { RateCardItem, Rates } from '@huelot/contracts';
import type { Prisma } from '../../db/client.ts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export type ItemRow = Omit<RateCardItem, 'createdAt'> & { createdAt: Date };
export type CardRow = ItemRow & { rates: Rates };

const item = sql`
  c."id", c."revision", c."note", c."snapshot" ->> 'createdBy' as "createdBy", c."createdAt",
  c."revision" = (select max("revision") from "rate_card") as "current"`;
const cards = sql`from "rate_card" c`;

/** Every revision, newest first, without its figures. */
export const readCards = (execute: SqlExecutor) =>
  execute<ItemRow>(sql`select ${item} ${cards} order by c."revision" desc`);

/** The revision that holds the condition, and the one before it; an empty list when there is none. */
const cardAndBefore = (execute: SqlExecutor, condition: Prisma.Sql) =>
  execute<CardRow>(sql`
    select ${item}, c."rates" ${cards}
     where c."revision" <= (select c."revision" from "rate_card" c where ${condition})
     order by c."revision" desc limit 2`);
export const readCard = (execute: SqlExecutor, id: number) => cardAndBefore(execute, sql`c."id" = ${id}`);
export const readCurrent = (execute: SqlExecutor) =>
  cardAndBefore(execute, sql`c."revision" = (select max("revision") from "rate_card")`);

/** Keeps everybody else who wants to add a card waiting until this transaction ends. */
export const lockCards = (execute: SqlExecutor) =>
  execute(sql`select pg_advisory_xact_lock(hashtextextended('rate_card', 0))::text`);
export const addCard = (
  db: Queryable,
  options: { revision: number; rates: Rates; note: string; createdById: number },
) => db.prisma.rateCard.create({ data: options });
