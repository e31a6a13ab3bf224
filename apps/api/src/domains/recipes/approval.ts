import type { RecipeRevision } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { checkVersion, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { refuseForbiddenMetals, refuseUnfinished } from './check-route.ts';
import { readLocked } from './drafts.ts';
import * as queries from './queries.ts';
import { readRevision } from './views.ts';

interface Decision {
  actor: Actor;
  id: number;
  version: number;
}

/** Approves a draft that others wrote, and supersedes the revision that was approved before. */
export async function approve(db: Db, { actor, id, version }: Decision): Promise<RecipeRevision> {
  return inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    const { recipe, revision } = draft;
    if (draft.status !== 'draft') {
      const by = draft.approvedBy === null ? '' : ` by ${draft.approvedBy.displayName}`;
      throw new Refusal('frozen', `Revision ${revision} of ${recipe.number} was approved already${by}.`);
    }
    if (draft.writers.some((writer) => writer.id === actor.personId)) {
      throw new Refusal('not-allowed', 'You wrote in this draft: somebody else must approve it.');
    }
    if (recipe.archivedAt !== null) {
      throw new Refusal('conflict', `${recipe.number} is archived: put it back on the lists first.`);
    }
    checkVersion({ stored: draft, version, what: `Draft ${revision} of ${recipe.number}` });
    refuseUnfinished(recipe.family, draft.steps);
    refuseForbiddenMetals(recipe.baseMetals, draft.steps);

    const now = new Date();
    const about = { kind: 'recipe', id: recipe.id, number: recipe.number } as const;
    const approved = (await queries.readRevisions(tx.run, recipe.id)).find(
      ({ status }) => status === 'approved',
    );
    if (approved !== undefined) {
      await queries.setStatus(tx, approved.id, { status: 'superseded', supersededAt: now });
      await record(tx.run, actor, { ...about, action: `superseded revision ${approved.revision}` });
    }
    await queries.setStatus(tx, id, { status: 'approved', approvedById: actor.personId, approvedAt: now });
    await record(tx.run, actor, { ...about, action: `approved revision ${revision}` });
    return readRevision(tx, id);
  });
}

/** Takes the approved revision out of use: nothing new is quoted or released with it. */
export async function withdraw(
  db: Db,
  { actor, id, version, reason }: Decision & { reason: string },
): Promise<RecipeRevision> {
  return inTransaction(db, async (tx) => {
    const before = await readLocked(tx, id);
    const { recipe, revision, status } = before;
    if (status !== 'approved') {
      throw new Refusal(
        status === 'draft' ? 'conflict' : 'frozen',
        `Revision ${revision} of ${recipe.number} is ${status}: only an approved one can be withdrawn.`,
      );
    }
    checkVersion({ stored: before, version, what: `Revision ${revision} of ${recipe.number}` });
    await queries.setStatus(tx, id, { status: 'withdrawn', supersededAt: new Date() });
    await record(tx.run, actor, {
      kind: 'recipe',
      id: recipe.id,
      number: recipe.number,
      action: `withdrew revision ${revision}`,
      reason,
    });
    return readRevision(tx, id);
  });
}
