import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { Prisma, PrismaClient } from '../generated/client.ts';
import { PreparingClient } from './preparing-client.ts';

export { Prisma };

/**
 * Runs one statement and returns its rows. Build statements with the {@link sql} tag; in them cast counts to `int`
 * and money to `text`, because the two kinds of connection read `bigint` and `numeric` differently.
 */
export type Run = <Row>(statement: Prisma.Sql) => Promise<Row[]>;
export const sql = Prisma.sql;

/** What queries need: the Prisma client for rows and SQL for sets, on one connection or inside one transaction. */
export interface Queryable {
  readonly prisma: Prisma.TransactionClient;
  readonly run: Run;
}

/** The open database. */
export interface Db extends Queryable {
  readonly prisma: PrismaClient;
  readonly pool: pg.Pool;
  close(): Promise<void>;
}

/** Inside a transaction. */
export type Tx = Queryable;

/**
 * Opens one pool that Prisma and raw SQL share. Connecting is lazy: a database that is down shows in the first query.
 *
 * @example
 * const db = openDatabase({ connectionString: 'postgresql://localhost/huelot' });
 */
export function openDatabase({ connectionString, max = 20 }: { connectionString: string; max?: number }): Db {
  const pool = new pg.Pool({
    Client: PreparingClient,
    connectionString,
    max,
    idleTimeoutMillis: 30_000,
    connectionTimeoutMillis: 5_000,
  });
  // An idle connection that the server closes is replaced at the next query; without a listener it would end the process.
  pool.on('error', () => undefined);
  const prisma = new PrismaClient({ adapter: new PrismaPg(pool, { disposeExternalPool: false }) });
  return {
    prisma,
    pool,
    run: async <Row>(statement: Prisma.Sql) =>
      (await pool.query({ text: statement.text, values: statement.values })).rows as Row[],
    close: async () => {
      await prisma.$disconnect();
      await pool.end();
    },
  };
}

/**
 * Runs `work` in one transaction: all of it is kept, or none. A deadlock or a serialisation failure is tried again.
 *
 * @example
 * await inTransaction(db, async (tx) => { await addPart(tx, part); await record(tx, actor, entry); });
 */
export async function inTransaction<T>(db: Db, work: (tx: Tx) => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await db.prisma.$transaction(
        (prisma) => work({ prisma, run: <Row>(statement: Prisma.Sql) => prisma.$queryRaw<Row[]>(statement) }),
        { maxWait: 10_000, timeout: 60_000 },
      );
    } catch (error) {
      if (attempt === 3 || !isWorthAnotherTry(error)) throw error;
    }
  }
}

/**
 * Like {@link inTransaction}, in SQL alone on one connection: for the few writes that many hands do at once.
 *
 * @example
 * await inSqlTransaction(db, async (run) => run(sql`select 1`));
 */
export async function inSqlTransaction<T>(db: Db, work: (run: Run) => Promise<T>): Promise<T> {
  const client = await db.pool.connect();
  let broken = false;
  try {
    await client.query('begin');
    const result = await work(
      async <Row>(statement: Prisma.Sql) =>
        (await client.query({ text: statement.text, values: statement.values })).rows as Row[],
    );
    await client.query('commit');
    return result;
  } catch (error) {
    await client.query('rollback').catch(() => (broken = true));
    throw error;
  } finally {
    client.release(broken);
  }
}

const retryable = new Set(['40001', '40P01', 'P2034']);
const isWorthAnotherTry = (error: unknown) => retryable.has(databaseCode(error) ?? '');

/** The SQLSTATE (or Prisma code) inside whatever a query threw, and the words the database gave. */
export function databaseFault(error: unknown): { code: string; message: string } | null {
  const seen = new Set<unknown>();
  let at: unknown = error;
  let prismaCode: string | null = null;
  while (at !== null && typeof at === 'object' && !seen.has(at)) {
    seen.add(at);
    const { code, originalCode, originalMessage, message, cause, meta } = at as Record<string, unknown>;
    if (typeof originalCode === 'string') {
      return { code: originalCode, message: textOf(originalMessage) ?? textOf(message) ?? '' };
    }
    if (typeof code === 'string' && /^([0-9A-Z]{5})$/.test(code)) {
      if (!code.startsWith('P2')) return { code, message: textOf(message) ?? '' };
      prismaCode = code;
    }
    const inner = meta as { driverAdapterError?: unknown } | undefined;
    at = inner?.driverAdapterError ?? cause;
  }
  return prismaCode === null
    ? null
    : { code: prismaCode, message: error instanceof Error ? error.message : '' };
}
const textOf = (value: unknown): string | undefined => (typeof value === 'string' ? value : undefined);
const databaseCode = (error: unknown) => databaseFault(error)?.code;
