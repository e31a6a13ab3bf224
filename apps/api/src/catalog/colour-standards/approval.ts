import { colourGradeNames, gradeDecides, type ColourStandard } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { approveRevision, retireRevision, type RevisionFate } from '../../core/people/index.ts';
import { nameOf, readLocked } from './drafts.ts';
import * as queries from './queries.ts';
import { readStandardRevision } from './views.ts';

interface Decision {
  actor: Actor;
  id: number;
  version: number;
}

const decided = ({
  revisionId,
  standardId,
  code,
  revision,
}: Pick<ColourStandard, 'revisionId' | 'standardId' | 'code' | 'revision'>) => ({
  id: revisionId,
  name: nameOf({ code, revision }),
  record: { kind: 'colour-standard', id: standardId } as const,
});
const statusSetter = (tx: Tx) => (id: number, fate: RevisionFate) => queries.setStatus(tx, id, fate);

/** Approves a draft: what was measured or compared, and has not run out. */
export async function approveStandard(
  db: Db,
  { actor, id, version, typedName }: Decision & { typedName?: string | undefined },
): Promise<ColourStandard> {
  return inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    const before = draft.revisions.find(({ status }) => status === 'approved');
    await approveRevision(tx, {
      ...{ actor, version, typedName, writers: draft.writers, permission: 'standards.approve' },
      revision: { ...decided(draft), status: draft.status, version: draft.version },
      before: before === undefined ? null : decided({ ...draft, ...before }),
      check: () => refuseUnfit(draft),
      setStatus: statusSetter(tx),
    });
    return readStandardRevision(tx.execute, id);
  });
}

function refuseUnfit({ grade, expired, customer, agreedBy }: ColourStandard): void {
  if (!gradeDecides(grade))
    throw fieldError(
      'grade',
      `is "${colourGradeNames[grade]}": only what was measured with an instrument or compared with a sample by two people can be approved`,
    );
  if (expired) throw fieldError('expiresOn', 'has passed already');
  if (customer !== null && agreedBy.trim() === '')
    throw fieldError('agreedBy', `must say who of ${customer.name} agreed`);
}

/** Retires the approved revision: nothing new is promised or judged by it. */
export async function retireStandard(
  db: Db,
  { actor, id, version, reason }: Decision & { reason: string },
): Promise<ColourStandard> {
  return inTransaction(db, async (tx) => {
    const { status, version: stored, ...standard } = await readLocked(tx, id);
    await retireRevision(tx, {
      ...{ actor, version, reason, setStatus: statusSetter(tx) },
      revision: { ...decided(standard), status, version: stored },
    });
    return readStandardRevision(tx.execute, id);
  });
}
