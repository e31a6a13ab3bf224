import type { Db } from '../db/client.ts';
import { outageOf, type Outage } from '../db/outage.ts';
import { outageWords } from './outage-words.ts';

export interface Condition {
  database: 'up' | 'busy' | 'full' | 'down';
  /** What is the matter, unless it is up. */
  reason?: string;
}

const TIMEOUT_MS = 3_000;

/** More than any gap that the files of the database may still have. */
const trialWrite = `create temporary table trial_of_room on commit drop as
  select md5(random()::text) as filling from generate_series(1, 40000)`;

/**
 * How the database fares. A full disk does not show in reading, so a request that met one is remembered, until a trial
 * write finds room again.
 */
export function watchCondition(pool: Db['pool']) {
  let isFull = false;
  let looking: Promise<Condition> | null = null;

  async function look(): Promise<Condition> {
    try {
      await withinPatience(pool.query('select 1'));
      if (isFull) await withinPatience(tryToWrite(pool));
      isFull = false;
      return { database: 'up' };
    } catch (error) {
      return conditionOf(error instanceof TooLate && pool.waitingCount > 0 ? 'busy' : outageOf(error), error);
    }
  }

  return {
    /** Hears of every request that failed. */
    note: (error: unknown) => {
      if (outageOf(error) === 'disk-full') isFull = true;
    },
    /** However many ask at once, the database is asked once. */
    read: (): Promise<Condition> => {
      looking ??= look().finally(() => (looking = null));
      return looking;
    },
  };
}

function conditionOf(outage: Outage | null, error: unknown): Condition {
  const unknown = error instanceof TooLate ? error.message : 'The database does not work as it should.';
  const reason = outage === null ? unknown : outageWords[outage].matter;
  if (outage === 'busy') return { database: 'busy', reason };
  return { database: outage === 'disk-full' ? 'full' : 'down', reason };
}

class TooLate extends Error {
  override message = `The database does not answer within ${TIMEOUT_MS / 1000} s.`;
}

async function tryToWrite(pool: Db['pool']): Promise<void> {
  const client = await pool.connect();
  try {
    await client.query('begin');
    await client.query(trialWrite);
  } finally {
    await client.query('rollback').catch(() => undefined);
    client.release();
  }
}

async function withinPatience(work: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const tooLate = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new TooLate()), TIMEOUT_MS);
  });
  try {
    await Promise.race([work, tooLate]);
  } finally {
    clearTimeout(timer);
  }
}
