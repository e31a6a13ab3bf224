import type { RecipeRevision } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import { addException } from './exception-queries.ts';
import { refuseWithoutRight } from './gate.ts';
import { readRecipeEvidence } from './view.ts';

/**
 * Refuses to approve a recipe on nothing, or with limits wider than its coupons hold, unless whoever approves gives a
 * reason by name. The reason is kept with what was lacking.
 */
export async function checkEvidence(
  tx: Tx,
  { actor, draft, reason }: { actor: Actor; draft: RecipeRevision; reason: string | undefined },
): Promise<void> {
  const { approvalNeeds } = await readRecipeEvidence(tx.execute, draft.id);
  if (approvalNeeds.length === 0) {
    if (reason !== undefined) throw fieldError('unprovedReason', 'is not needed: the evidence proves it');
    return;
  }
  const lacks = approvalNeeds.join(' ');
  if (reason === undefined)
    throw new DomainError('not-proved', `${lacks} Approve it with a reason, or cite evidence first.`, {
      issues: [{ path: 'unprovedReason', message: 'is needed: why it is approved all the same' }],
    });
  refuseWithoutRight(actor, 'unprovedReason');
  await addException(tx.execute, {
    ...{ place: 'approval', recipeRevisionId: draft.id, materialId: null },
    recordNumber: `${draft.recipe.number} rev ${draft.revision}`,
    ...{ finding: lacks, reason, allowedById: actor.personId, askedById: actor.personId },
  });
}
