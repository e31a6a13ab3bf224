import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { Prisma, PrismaClient } from '../generated/client.ts';
import { plannedAnewMark, PreparingClient } from './preparing-client.ts';
import type { Queryable, SqlExecutor, Tx } from './queryable.ts';
import { openSearchPool, SEARCH_TIMEOUT_MS, searchUnderWay } from './searching.ts';
import { openUnit, unitUnderWay, type Held } from './unit.ts';

export { Prisma };
export type { Queryable, SqlExecutor, Tx };

export const sql = Prisma.sql;

/**
 * Stands at the head of a statement whose plan is not kept: see {@link plannedAnewMark}.
 *
 * @example
 * sql`${plannedAnew} select "id" from "lot" where "number" ilike ${like}`
 */
export const plannedAnew = Prisma.raw(plannedAnewMark);

/** The open database. */
export interface Db extends Queryable {
  readonly prisma: PrismaClient;
  readonly pool: pg.Pool;
  close(): Promise<void>;
}

/**
 * Opens one pool that Prisma and raw SQL share, and a small one for searches. Connecting is lazy: a database that is down shows in the first query.
 *
 * @example
 * const db = openDatabase({ connectionString: 'postgresql://localhost/huelot' });
 */
export function openDatabase({
  connectionString,
  max = 20,
  statementTimeoutMs,
  searchTimeoutMs = SEARCH_TIMEOUT_MS,
}: {
  connectionString: string;
  max?: number;
  /** The database undoes a statement that takes longer; without it, none. */
  statementTimeoutMs?: number;
  /** The same of a search. */
  searchTimeoutMs?: number;
}): Db {
  const pool = new pg.Pool({
    Client: PreparingClient,
    connectionString,
    max,
    idleTimeoutMillis: 30_000,
    connectionTimeoutMillis: 5_000,
    ...(statementTimeoutMs === undefined ? {} : { statement_timeout: statementTimeoutMs }),
  });
  // An idle connection that the server closes is replaced at the next query; without a listener it would end the process.
  pool.on('error', () => undefined);
  const prisma = new PrismaClient({ adapter: new PrismaPg(pool, { disposeExternalPool: false }) });
  const runAlone = runOn(pool);
  const searches = openSearchPool({
    connectionString,
    timeoutMs: searchTimeoutMs,
    cancel: (processId) => pool.query('select pg_cancel_backend($1)', [processId]),
  });
  return {
    // What a request reads after its write, it reads in the same transaction: see `unit.ts`.
    get prisma() {
      return (openUnit()?.prisma as PrismaClient | undefined) ?? prisma;
    },
    pool,
    execute: <Row>(statement: Prisma.Sql) => {
      const gone = searchUnderWay();
      const unit = openUnit();
      if (unit === null && gone !== null) return searches.execute<Row>(statement, gone);
      return (unit?.execute ?? runAlone)<Row>(statement);
    },
    close: async () => {
      await prisma.$disconnect();
      await searches.close();
      await pool.end();
    },
  };
}

const runOn =
  (connection: pg.Pool | pg.PoolClient): SqlExecutor =>
  async <Row>(statement: Prisma.Sql) =>
    (await connection.query({ text: statement.text, values: statement.values })).rows as Row[];

/**
 * Runs `work` in one transaction: all of it is kept, or none. A deadlock or a serialisation failure is tried again. Inside a
 * transaction it joins that one, so that several commands can stand or fall together. Under a key the transaction is the
 * request's own: it is kept when the request has its answer.
 *
 * @example
 * await inTransaction(db, async (tx) => { await addPart(tx, part); await record(tx, actor, entry); });
 */
export async function inTransaction<T>(db: Db | Tx, work: (tx: Tx) => Promise<T>): Promise<T> {
  if (!isWhole(db)) return work(db);
  const begun = openUnit();
  if (begun !== null) return work(begun);
  for (let attempt = 1; ; attempt += 1) {
    try {
      const unit = unitUnderWay();
      return await (unit === null
        ? db.prisma.$transaction((prisma) => work(through(prisma)), limits)
        : unit.begin(() => holdPrisma(db), work));
    } catch (error) {
      if (attempt === 3 || !isWorthAnotherTry(error)) throw error;
    }
  }
}
const limits = { maxWait: 10_000, timeout: 60_000 };
const through = (prisma: Prisma.TransactionClient): Tx => ({
  prisma,
  execute: <Row>(statement: Prisma.Sql) => prisma.$queryRaw<Row[]>(statement),
});

/** Opens a transaction that stays open until it is told to end. */
async function holdPrisma(db: Db): Promise<Held> {
  let keep = (): void => undefined;
  let drop = (): void => undefined;
  let ended: Promise<unknown> = Promise.resolve();
  const tx = await new Promise<Tx>((resolve, reject) => {
    ended = db.prisma.$transaction(
      (prisma) =>
        new Promise<void>((fulfil, fail) => {
          keep = fulfil;
          drop = () => fail(new Error('given up'));
          resolve(through(prisma));
        }),
      limits,
    );
    ended.catch(reject);
  });
  return {
    tx,
    commit: async () => {
      keep();
      await ended;
    },
    rollback: async () => {
      drop();
      await ended.catch(() => undefined);
    },
  };
}

const isWhole = (db: Db | Tx): db is Db => 'pool' in db;

/**
 * Like {@link inTransaction}, in SQL alone on one connection: for the few writes that many hands do at once.
 *
 * @example
 * await inSqlTransaction(db, async (run) => run(sql`select 1`));
 */
export async function withSqlTransaction<T>(db: Db, work: (execute: SqlExecutor) => Promise<T>): Promise<T> {
  const begun = openUnit();
  if (begun !== null) return work(begun.execute);
  const unit = unitUnderWay();
  if (unit !== null)
    return unit.begin(
      () => holdSql(db),
      ({ execute }) => work(execute),
    );
  const held = await holdSql(db);
  try {
    const result = await work(held.tx.execute);
    await held.commit();
    return result;
  } catch (error) {
    await held.rollback();
    throw error;
  }
}

async function holdSql(db: Db): Promise<Held> {
  const client = await db.pool.connect();
  const end = async (command: 'begin' | 'commit' | 'rollback') => {
    await client.query(command);
    if (command !== 'begin') client.release();
  };
  const rollback = () => end('rollback').catch(() => client.release(true));
  await end('begin').catch((error: unknown) => {
    client.release(true);
    throw error;
  });
  return { tx: { prisma: noPrisma, execute: runOn(client) }, commit: () => end('commit'), rollback };
}

/** A transaction in SQL alone is on a connection that Prisma does not know. */
const noPrisma = new Proxy({} as Prisma.TransactionClient, {
  get: () => {
    throw new Error('a transaction in SQL alone is read in SQL alone');
  },
});

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
