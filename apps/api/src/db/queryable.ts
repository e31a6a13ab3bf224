import type { Prisma } from '../generated/client.ts';

/**
 * Runs one statement and returns its rows. Build statements with the `sql` tag of `client.ts`; in them cast counts to `int`
 * and money to `text`, because the two kinds of connection read `bigint` and `numeric` differently.
 */
export type SqlExecutor = <Row>(statement: Prisma.Sql) => Promise<Row[]>;

/** What queries need: the Prisma client for rows and SQL for sets, on one connection or inside one transaction. */
export interface Queryable {
  readonly prisma: Prisma.TransactionClient;
  readonly execute: SqlExecutor;
}

/** Inside a transaction. */
export type Tx = Queryable;
