import { sql, type Run } from '../db/client.ts';
import { Refusal } from '../refusal.ts';
import type { OnceKey } from './route.ts';

/**
 * Does `work` once for a key: a resend after a lost answer gets the first answer, and changes nothing. Call it
 * inside the transaction of the change. The same key with other words is refused.
 *
 * @example
 * return answerOnce({ run, personId, once }, () => sign(run, actor, body));
 */
export async function answerOnce<T extends object>(
  of: { run: Run; personId: number; once: OnceKey | null },
  work: () => Promise<T>,
): Promise<T> {
  const { run, personId, once } = of;
  if (once === null) return work();
  await run(sql`select pg_advisory_xact_lock(hashtextextended(${`${personId} ${once.key}`}, 0))::text`);
  const [first] = await run<{ requestHash: Uint8Array; reply: T }>(
    sql`select "requestHash", "reply" from "answered" where "personId" = ${personId} and "key" = ${once.key}`,
  );
  if (first !== undefined) {
    if (Buffer.compare(first.requestHash, once.requestHash) !== 0) {
      throw new Refusal(
        'conflict',
        'This Idempotency-Key was used for another request. Use a new key for a new request.',
      );
    }
    return first.reply;
  }
  const reply = await work();
  await run(sql`
    insert into "answered" ("personId", "key", "requestHash", "status", "reply")
    values (${personId}, ${once.key}, ${once.requestHash}, 200, ${JSON.stringify(reply)}::jsonb)`);
  return reply;
}
