import { type Calibration, verdictWords } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { approveRevision, retireRevision, type RevisionFate } from '../../core/people/index.ts';
import { nameOf, readLocked } from './drafts.ts';
import { nextVoltage } from './law.ts';
import * as queries from './queries.ts';
import { readCalibration } from './views.ts';

interface Decision {
  actor: Actor;
  id: number;
  version: number;
}

const decided = ({ id, code, revision }: Pick<Calibration, 'id' | 'code' | 'revision'>) => ({
  id,
  name: nameOf({ code, revision }),
  record: { kind: 'calibration', id } as const,
});
const statusSetter = (tx: Tx) => (id: number, fate: RevisionFate) => queries.setStatus(tx, id, fate);

/** Approves a draft: its coupons agree with one law, the orders are decided, and its series are still good. */
export function approveCalibration(
  db: Db,
  { actor, id, version, typedName }: Decision & { typedName?: string | undefined },
): Promise<Calibration> {
  return inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    const before = draft.revisions.find(({ status }) => status === 'approved');
    await approveRevision(tx, {
      ...{ actor, version, typedName, writers: draft.writers, permission: 'coupons.approve' },
      revision: { ...decided(draft), status: draft.status, version: draft.version },
      before: before === undefined ? null : decided({ ...before, code: draft.code }),
      check: () => refuseUnfit(tx, draft),
      setStatus: statusSetter(tx),
    });
    return readCalibration(tx.execute, id);
  });
}

async function refuseUnfit(tx: Tx, { verdict, fit, seriesIds }: Calibration): Promise<void> {
  if (verdict !== 'good') throw fieldError('fit.verdict', verdictWords(verdict, nextVoltage(fit)));
  const retired = await queries.readRetired(tx.execute, seriesIds);
  if (retired.length > 0)
    throw fieldError('seriesIds', `${retired.join(', ')} was retired since: nothing rests on it any more`);
}

/** Retires the approved revision: no voltage is proposed from it any more. */
export function retireCalibration(
  db: Db,
  { actor, id, version, reason }: Decision & { reason: string },
): Promise<Calibration> {
  return inTransaction(db, async (tx) => {
    const { status, version: stored, ...calibration } = await readLocked(tx, id);
    await retireRevision(tx, {
      ...{ actor, version, reason, setStatus: statusSetter(tx) },
      revision: { ...decided(calibration), status, version: stored },
    });
    return readCalibration(tx.execute, id);
  });
}
