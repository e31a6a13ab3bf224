import { createHash } from 'node:crypto';
import { AsyncLocalStorage } from 'node:async_hooks';
import { withSqlTransaction, sql, type Db, type SqlExecutor } from '../db/client.ts';
import { Unit, withUnit } from '../db/unit.ts';
import { DomainError } from '../kernel/refusal.ts';

/** What was answered, to be sent again as it was. */
export interface Answer {
  status: number;
  body: string;
}

/** A key that a person sent with a write, and the digest of what it was sent with. */
export interface Key {
  readonly personId: number;
  readonly key: string;
  /** Null until the content has arrived: a file is not held until it is whole. */
  digest: Buffer | null;
}

/** The write under this key was answered before. */
class Answered extends Error {
  readonly answer: Answer;

  constructor(answer: Answer) {
    super('answered before');
    this.answer = answer;
  }
}

const keys = new AsyncLocalStorage<{ key: Key; run: SqlExecutor }>();

/**
 * Does `work` once for a key. Its answer is kept in the transaction of what it wrote; a resend gets that answer and
 * changes nothing. A refusal is not kept: whatever was refused may be sent again.
 *
 * @throws Refusal `in-progress` while the first is under way, `key-reused` where the key was sent with something else
 */
export async function withIdempotency(db: Db, key: Key, work: () => Promise<Answer>): Promise<Answer> {
  const unit = new Unit((execute) => claim(execute, key));
  try {
    return await keys.run({ key, run: db.execute }, async () => {
      if (key.digest !== null) await refuseAnswered(db.execute, key);
      const answer = await withUnit(unit, work);
      const keep = (execute: SqlExecutor) => keepAnswer(execute, key, answer);
      if (unit.tx !== null) await keep(unit.tx.execute);
      // Nothing was to be written.
      else
        await withSqlTransaction(db, async (execute) => {
          await claim(execute, key);
          await keep(execute);
        });
      await unit.commit();
      return answer;
    });
  } catch (error) {
    await unit.rollback();
    if (error instanceof Answered) return error.answer;
    throw error;
  }
}

/** Binds the key of the request to a content that came after its head: an uploaded file. */
export async function bindContent(content: Buffer): Promise<void> {
  const underWay = keys.getStore();
  if (underWay === undefined) return;
  underWay.key.digest = content;
  await refuseAnswered(underWay.run, underWay.key);
}

async function refuseAnswered(execute: SqlExecutor, { personId, key, digest }: Key): Promise<void> {
  if (digest === null) throw new Error('a key was claimed before its content was known');
  const [first] = await execute<Answer & { requestHash: Uint8Array }>(
    sql`select "requestHash", "status", "reply" as "body" from "answered" where "personId" = ${personId} and "key" = ${key}`,
  );
  if (first === undefined) return;
  if (Buffer.compare(first.requestHash, digest) !== 0)
    throw new DomainError(
      'key-reused',
      'This Idempotency-Key was sent with another request before. Use a new key for a new request.',
    );
  throw new Answered({ status: first.status, body: first.body });
}

/** Nobody else has the key until the transaction ends. */
async function claim(execute: SqlExecutor, key: Key): Promise<void> {
  const [lock] = await execute<{ isFree: boolean }>(
    sql`select pg_try_advisory_xact_lock(hashtextextended(${`${key.personId} ${key.key}`}, 0)) as "isFree"`,
  );
  if (!lock?.isFree)
    throw new DomainError(
      'in-progress',
      'The same request is under way: its answer is not there yet. Send it again in a moment, with the same key.',
    );
  await refuseAnswered(execute, key);
}

const keepAnswer = (execute: SqlExecutor, { personId, key, digest }: Key, { status, body }: Answer) =>
  execute(sql`
    insert into "answered" ("personId", "key", "requestHash", "status", "reply")
    values (${personId}, ${key}, ${digest}, ${status}, ${body})`);

/** So short that its digest would give it away to whoever reads the database. */
const unkept = new Set(['pin']);

/** A digest of what a request says: the same words are the same write. */
export const digestOf = ({ method, url, body }: { method: string; url: string; body: unknown }): Buffer =>
  createHash('sha256')
    .update(
      `${method} ${url} ${JSON.stringify(body ?? null, (name, value: unknown) => (unkept.has(name) ? null : value))}`,
    )
    .digest();
