import type { CouponSeries } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { checkVersion, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { nameOf, readLocked } from './drafts.ts';
import * as queries from './queries.ts';
import { readCouponSeries } from './views.ts';

interface Decision {
  actor: Actor;
  id: number;
  version: number;
}

/** Approves a draft that others wrote, and supersedes the revision that was approved before. */
export async function approveSeries(db: Db, { actor, id, version }: Decision): Promise<CouponSeries> {
  return inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    if (draft.status !== 'draft')
      throw new Refusal('frozen', `${nameOf(draft)} is ${draft.status}: only a draft can be approved.`);
    if (draft.writers.some((writer) => writer.id === actor.personId))
      throw new Refusal('not-allowed', 'You wrote in this draft: somebody else must approve it.');
    checkVersion({ stored: draft, version, what: nameOf(draft) });
    if (draft.trials.length === 0) throw invalid('trials', 'needs at least one coupon');

    const now = new Date();
    const before = draft.revisions.find(({ status }) => status === 'approved');
    if (before !== undefined) {
      await queries.setStatus(tx, before.id, { status: 'superseded', endedAt: now });
      const number = nameOf({ ...draft, revision: before.revision });
      await record(tx.run, actor, { kind: 'coupons', id: before.id, number, action: 'superseded' });
    }
    await queries.setStatus(tx, id, { status: 'approved', approvedById: actor.personId, approvedAt: now });
    await record(tx.run, actor, { kind: 'coupons', id, number: nameOf(draft), action: 'approved' });
    return readCouponSeries(tx.run, id);
  });
}

/** Retires the approved revision: nothing is predicted from it any more. */
export async function retireSeries(
  db: Db,
  { actor, id, version, reason }: Decision & { reason: string },
): Promise<CouponSeries> {
  return inTransaction(db, async (tx) => {
    const before = await readLocked(tx, id);
    if (before.status !== 'approved')
      throw new Refusal(
        before.status === 'draft' ? 'conflict' : 'frozen',
        `${nameOf(before)} is ${before.status}: only an approved one can be retired.`,
      );
    checkVersion({ stored: before, version, what: nameOf(before) });
    await queries.setStatus(tx, id, { status: 'retired', endedAt: new Date(), endReason: reason });
    await record(tx.run, actor, { kind: 'coupons', id, number: nameOf(before), action: 'retired', reason });
    return readCouponSeries(tx.run, id);
  });
}
