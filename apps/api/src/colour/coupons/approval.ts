import { selfApprovalStatement, type CouponSeries } from '@huelot/contracts';
import type { Actor } from '../../shared/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { assertVersion, fieldError, DomainError } from '../../shared/refusal.ts';
import { writeAudit, signature } from '../../core/audit/index.ts';
import { checkApproval } from '../../core/people/index.ts';
import { nameOf, readLocked } from './drafts.ts';
import * as queries from './queries.ts';
import { readCouponSeries } from './views.ts';

interface Decision {
  actor: Actor;
  id: number;
  version: number;
}

/**
 * Approves a draft that others wrote, or the author's own where nobody else may, and supersedes the revision that was
 * approved before.
 */
export async function approveSeries(
  db: Db,
  { actor, id, version, typedName }: Decision & { typedName?: string | undefined },
): Promise<CouponSeries> {
  return inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    if (draft.status !== 'draft')
      throw new DomainError(
        'immutable',
        `${nameOf(draft)} is ${draft.status}: only a draft can be approved.`,
      );
    const { selfApproved } = await checkApproval(tx, {
      ...{ actor, writers: draft.writers, typedName },
      permission: 'coupons.approve',
    });
    assertVersion({ stored: draft, version, what: nameOf(draft) });
    if (draft.trials.length === 0) throw fieldError('trials', 'needs at least one coupon');

    const now = new Date();
    const before = draft.revisions.find(({ status }) => status === 'approved');
    if (before !== undefined) {
      await queries.setStatus(tx, before.id, { status: 'superseded', endedAt: now });
      const number = nameOf({ ...draft, revision: before.revision });
      await writeAudit(tx.execute, actor, { kind: 'coupons', id: before.id, number, action: 'superseded' });
    }
    await queries.setStatus(tx, id, {
      ...{ status: 'approved', approvedById: actor.personId, approvedAt: now, selfApproved },
    });
    await writeAudit(tx.execute, actor, {
      kind: 'coupons',
      id,
      number: nameOf(draft),
      action: selfApproved ? selfApprovalStatement : 'approved',
      changes: signature(actor, 'approved'),
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
    const before = await readLocked(tx, id);
    if (before.status !== 'approved')
      throw new DomainError(
        before.status === 'draft' ? 'conflict' : 'immutable',
        `${nameOf(before)} is ${before.status}: only an approved one can be retired.`,
      );
    assertVersion({ stored: before, version, what: nameOf(before) });
    await queries.setStatus(tx, id, { status: 'retired', endedAt: new Date(), endReason: reason });
    await writeAudit(tx.execute, actor, {
      kind: 'coupons',
      id,
      number: nameOf(before),
      action: 'retired',
      reason,
    });
    return readCouponSeries(tx.execute, id);
  });
}
