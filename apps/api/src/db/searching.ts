import { AsyncLocalStorage } from 'node:async_hooks';
import pg from 'pg';
import { DomainError } from '../kernel/refusal.ts';
import { outageOf } from './outage.ts';
import { PreparingClient } from './preparing-client.ts';
import type { Prisma } from '../generated/client.ts';

/** So many searches and exports run at once; the others wait, and nobody's work waits for them. */
const SEARCHES = 4;
const PATIENCE_MS = 5_000;
/** A search that takes longer is stopped. */
export const SEARCH_TIMEOUT_MS = 10_000;

const searches = new AsyncLocalStorage<AbortSignal>();

/**
 * Reads within `work` as a search: on a few connections of its own, for so long and no longer, and no further once whoever
 * asked has gone.
 *
 * @example
 * await asSearch(gone, () => search(db, query));
 */
export const asSearch = <T>(gone: AbortSignal, work: () => T): T => searches.run(gone, work);

/** Whether a search is under way here: the signal that whoever asked has gone. */
export const searchUnderWay = (): AbortSignal | null => searches.getStore() ?? null;

export interface SearchPool {
  execute: <Row>(statement: Prisma.Sql, gone: AbortSignal) => Promise<Row[]>;
  close: () => Promise<void>;
}

/** Connections that only searches use. `cancel` stops what the server process of a number is doing. */
export function openSearchPool({
  connectionString,
  timeoutMs,
  cancel,
}: {
  connectionString: string;
  timeoutMs: number;
  cancel: (processId: number) => Promise<unknown>;
}): SearchPool {
  const pool = new pg.Pool({
    ...{ Client: PreparingClient, connectionString, max: SEARCHES, idleTimeoutMillis: 30_000 },
    ...{ connectionTimeoutMillis: PATIENCE_MS, statement_timeout: timeoutMs },
  });
  pool.on('error', () => undefined); // As for the other connections: see `client.ts`.
  return {
    execute: async <Row>(statement: Prisma.Sql, gone: AbortSignal) => {
      const client = await pool.connect().catch((error: unknown) => {
        throw outageOf(error) === 'busy' ? tooMany() : error;
      });
      let cancelling: Promise<unknown> = Promise.resolve();
      const stop = () => {
        cancelling = cancel(Reflect.get(client, 'processID') as number).catch(() => undefined);
      };
      try {
        gone.throwIfAborted();
        gone.addEventListener('abort', stop, { once: true });
        return (await client.query({ text: statement.text, values: statement.values })).rows as Row[];
      } catch (error) {
        throw outageOf(error) === 'too-slow' && !gone.aborted ? tooLong(timeoutMs) : error;
      } finally {
        gone.removeEventListener('abort', stop);
        // Else it would stop whatever the connection does next.
        await cancelling;
        client.release();
      }
    },
    close: () => pool.end(),
  };
}

const tooLong = (timeoutMs: number) =>
  new DomainError(
    'busy',
    `This search takes longer than ${timeoutMs / 1000} s and was stopped. Narrow it: fewer days, a part, a tank, a rarer word.`,
  );
const tooMany = () =>
  new DomainError(
    'busy',
    `As many searches and exports as run at once, ${SEARCHES}, are under way, and none ended in time. Try again in a moment.`,
  );
