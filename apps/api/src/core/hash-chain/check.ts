import { withSqlTransaction, type Db } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { addCheck, breakOffCheck, finishCheck, noteProgress, type CheckRow } from './check-queries.ts';
import type { ChainKeys } from './keys.ts';
import { lockChain } from './link-queries.ts';
import type { Seal } from './seal-text.ts';
import { sealText } from './seal-text.ts';
import { verifyChain, type Verdict } from './verify.ts';

/** A page asks for no more than this; the command takes as long as it takes. */
const MAX_AGE_MS = 10 * 60_000;

interface Asked {
  keys: ChainKeys;
  startedBy: string;
  seal: Seal | null;
  /** True when whoever would read the result is going away. */
  isOver?: () => boolean;
}

/**
 * Notes that a check began and returns it with the check itself, which ends by noting what it found.
 *
 * @throws Refusal when one is under way already
 */
export async function beginCheck(
  db: Db,
  { keys, startedBy, seal, isOver, longestMs = MAX_AGE_MS }: Asked & { longestMs?: number },
): Promise<{ check: CheckRow<Verdict>; verdict: Promise<Verdict> }> {
  const check = await withSqlTransaction(db, async (execute) => {
    await lockChain(execute, { wait: true });
    return addCheck<Verdict>(execute, { startedBy, seal: seal === null ? null : sealText(seal) });
  });
  if (check === null)
    throw new DomainError('conflict', 'The chain is being checked already; wait for the result.');
  const { id } = check;
  const until = Date.now() + longestMs;
  const verdict = verifyChain(db, {
    ...{ keys, seal },
    isOver: () => Date.now() > until || (isOver?.() ?? false),
    onProgress: async (done) => void (await noteProgress(db.execute, { id, done })),
  }).then(
    async (found) => {
      await finishCheck(db.execute, { id, verdict: found });
      return found;
    },
    async (error: unknown) => {
      await breakOffCheck(db.execute, id).catch(() => undefined); // The error says it all.
      throw error;
    },
  );
  return { check, verdict };
}
