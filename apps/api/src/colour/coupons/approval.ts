import type { CouponSeries } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { approveRevision, retireRevision } from '../../core/people/index.ts';
import { nameOf, readLocked } from './locked.ts';
import * as queries from './queries.ts';
import { readCouponSeries } from './views.ts';

interface Decision {
  actor: Actor;
  id: number;
  version: number;
}

const decided = ({ id, code, revision }: Pick<CouponSeries, 'id' | 'code' | 'revision'>) => ({
  id,
  name: nameOf({ code, revision }),
  record: { kind: 'coupons', id } as const,
});
const statusOf = (tx: Tx) => (id: number, fate: Parameters<typeof queries.setStatus>[2]) =>
  queries.setStatus(tx, id, fate);

/** Approves a draft; it needs coupons. */
export async function approveSeries(
  db: Db,
  { actor, id, version, typedName }: Decision & { typedName?: string | undefined },
): Promise<CouponSeries> {
  return inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    const before = draft.revisions.find(({ status }) => status === 'approved');
    await approveRevision(tx, {
      ...{ actor, version, typedName, writers: draft.writers, permission: 'coupons.approve' },
      revision: { ...decided(draft), status: draft.status, version: draft.version },
      before: before === undefined ? null : decided({ ...before, code: draft.code }),
      check: () => {
        if (draft.trials.length === 0) throw fieldError('trials', 'needs at least one coupon');
        const unseen = draft.trials.findIndex(({ outcome }) => outcome === null);
        if (unseen >= 0)
          throw fieldError(
            `trials.${unseen}.outcome`,
            'must be filled in: nobody has looked at this coupon yet',
          );
      },
      setStatus: statusOf(tx),
    });
    return readCouponSeries(tx.execute, id);
  });
}

/** Retires the approved revision: nothing is predicted from it any more. */
export async function retireSeries(
  db: Db,
  { actor, id, version, reason }: Decision & { reason: string },
): Promise<CouponSeries> {
  return inTransaction(db, async (tx) => {
    const { status, version: stored, ...series } = await readLocked(tx, id);
    await retireRevision(tx, {
      ...{ actor, version, reason, setStatus: statusOf(tx) },
      revision: { ...decided(series), status, version: stored },
    });
    return readCouponSeries(tx.execute, id);
  });
}
