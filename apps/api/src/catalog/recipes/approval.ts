import { selfApprovalStatement, type RecipeRevision } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, DomainError } from '../../kernel/refusal.ts';
import { writeAudit, signature } from '../../core/audit/index.ts';
import { checkCompetence } from '../competence/index.ts';
import { checkApproval } from '../../core/people/index.ts';
import { refuseForbiddenMetals, refuseUnfinished } from './check-route.ts';
import { readLocked } from './drafts.ts';
import * as queries from './queries.ts';
import { readRevision } from './views.ts';

interface Decision {
  actor: Actor;
  id: number;
  version: number;
}

/**
 * Looks whether a draft may be approved on its evidence, or on the reason that was given; throws where it may not. The
 * evidence stands in a wing above and is handed in.
 */
export type CheckEvidence = (
  tx: Tx,
  approval: { actor: Actor; draft: RecipeRevision; reason: string | undefined },
) => Promise<void>;

/**
 * Approves a draft that others wrote, or the author's own where nobody else may, and supersedes the revision that was
 * approved before.
 */
export async function approveRecipe(
  db: Db,
  {
    actor,
    id,
    version,
    typedName,
    unprovedReason,
    checkEvidence,
  }: Decision & {
    typedName?: string | undefined;
    unprovedReason?: string | undefined;
    checkEvidence: CheckEvidence;
  },
): Promise<RecipeRevision> {
  return inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    const { recipe, revision } = draft;
    if (draft.status !== 'draft') {
      const by = draft.approvedBy === null ? '' : ` by ${draft.approvedBy.displayName}`;
      throw new DomainError(
        'immutable',
        `Revision ${revision} of ${recipe.number} was approved already${by}.`,
      );
    }
    const { selfApproved } = await checkApproval(tx, {
      ...{ actor, writers: draft.writers, typedName },
      permission: 'recipes.approve',
    });
    if (recipe.archivedAt !== null) {
      throw new DomainError('conflict', `${recipe.number} is archived: put it back on the lists first.`);
    }
    assertVersion({ stored: draft, version, what: `Draft ${revision} of ${recipe.number}` });
    refuseUnfinished(recipe.family, draft.steps);
    refuseForbiddenMetals(recipe.baseMetals, draft.steps);
    await checkEvidence(tx, { actor, draft, reason: unprovedReason });
    await checkCompetence(tx.execute, { activity: 'approve', subjectId: id, person: actor, at: new Date() });

    const now = new Date();
    const about = { kind: 'recipe', id: recipe.id, number: recipe.number } as const;
    const approved = (await queries.readRevisions(tx.execute, recipe.id)).find(
      ({ status }) => status === 'approved',
    );
    if (approved !== undefined) {
      await queries.setStatus(tx, approved.id, { status: 'superseded', supersededAt: now });
      await writeAudit(tx.execute, actor, { ...about, action: `superseded revision ${approved.revision}` });
    }
    await queries.setStatus(tx, id, {
      ...{ status: 'approved', approvedById: actor.personId, approvedAt: now, selfApproved },
    });
    await writeAudit(tx.execute, actor, {
      ...about,
      action: `approved revision ${revision}${selfApproved ? `: ${selfApprovalStatement}` : ''}`,
      changes: signature(actor, 'approved'),
      reason: unprovedReason ?? null,
    });
    return readRevision(tx, id);
  });
}

/** Takes the approved revision out of use: nothing new is quoted or released with it. */
export async function withdrawRecipe(
  db: Db,
  { actor, id, version, reason }: Decision & { reason: string },
): Promise<RecipeRevision> {
  return inTransaction(db, async (tx) => {
    const before = await readLocked(tx, id);
    const { recipe, revision, status } = before;
    if (status !== 'approved') {
      throw new DomainError(
        status === 'draft' ? 'conflict' : 'immutable',
        `Revision ${revision} of ${recipe.number} is ${status}: only an approved one can be withdrawn.`,
      );
    }
    assertVersion({ stored: before, version, what: `Revision ${revision} of ${recipe.number}` });
    await queries.setStatus(tx, id, { status: 'withdrawn', supersededAt: new Date() });
    await writeAudit(tx.execute, actor, {
      kind: 'recipe',
      id: recipe.id,
      number: recipe.number,
      action: `withdrew revision ${revision}`,
      reason,
    });
    return readRevision(tx, id);
  });
}
