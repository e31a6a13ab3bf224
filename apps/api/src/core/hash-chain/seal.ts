import { withSqlTransaction, type Db } from '../../db/client.ts';
import type { ChainKeys } from './keys.ts';
import { linkOutstanding } from './link.ts';
import { lockChain } from './link-queries.ts';
import { addSeal, isSealDue, type SealRow } from './seal-queries.ts';

/**
 * Seals the chain as it is now, with everything in it that was committed before.
 *
 * @returns null where nothing is in the chain
 */
export async function sealNow(
  db: Db,
  { keys, sealedBy }: { keys: ChainKeys; sealedBy: string },
): Promise<SealRow | null> {
  await linkOutstanding(db, { keys, wait: true });
  return addSeal(db.execute, { sealedBy, again: true });
}

/** Makes the seal of the day, once for all processes of the service; null when there is one, or nothing new to seal. */
export const sealDaily = (db: Db): Promise<SealRow | null> =>
  withSqlTransaction(db, async (execute) => {
    if (!(await lockChain(execute, { wait: false })) || !(await isSealDue(execute))) return null;
    return addSeal(execute, { sealedBy: 'the service', again: false });
  });
