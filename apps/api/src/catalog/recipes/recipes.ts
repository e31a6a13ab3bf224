import type { createRecipe, Recipe, RecipeRevision, updateRecipe } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { assertVersion, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { refuseForbiddenMetals } from './check-route.ts';
import * as queries from './queries.ts';
import { readRecipe, readRevision } from './views.ts';

/** Starts a recipe with its first draft. */
export async function addRecipe(
  db: Db | Tx,
  options: { actor: Actor; input: z.output<typeof createRecipe.body> },
): Promise<RecipeRevision> {
  const { actor } = options;
  const { steps, changeNote, ...head } = options.input;
  refuseForbiddenMetals(head.baseMetals, steps);
  return inTransaction(db, async (tx) => {
    const recipe = await queries.addHead(tx, { ...head, number: await nextNumber(tx.execute, 'recipe') });
    const { id } = await queries.addRevision(tx, {
      recipeId: recipe.id,
      revision: 1,
      changeNote,
      authorId: actor.personId,
    });
    await queries.writeSteps(tx, id, steps);
    await writeAudit(tx.execute, actor, {
      kind: 'recipe',
      id: recipe.id,
      number: recipe.number,
      action: 'started with draft 1',
    });
    return readRevision(tx, id);
  });
}

/** Changes the head of a recipe. Family and metals stay once a revision was approved for them. */
export async function changeRecipe(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: z.output<typeof updateRecipe.body> },
): Promise<Recipe> {
  const { actor, id, version } = options;
  const { archived, ...head } = options.input;
  return inTransaction(db, async (tx) => {
    await queries.lockRecipe(tx.execute, id);
    const before = await readRecipe(tx, id);
    assertVersion({ stored: before, version, what: `Recipe ${before.number}` });
    const moved =
      head.family !== before.family ? 'family' : sameMetals(head, before) ? null : ('baseMetals' as const);
    if (moved !== null && !before.headOpen) {
      throw new DomainError(
        'immutable',
        `A revision of ${before.number} was approved for its family and metals. Start a new recipe for others; its steps can be copied.`,
        { issues: [{ path: moved, message: 'stays as it was approved' }] },
      );
    }
    if (moved !== null) await refuseDraftsThatAttack(tx, before, head.baseMetals);
    const archivedAt = archived ? new Date(before.archivedAt ?? Date.now()) : null;
    await queries.changeHead(tx, id, { ...head, archivedAt });
    const after = await readRecipe(tx, id);
    await writeAudit(tx.execute, actor, {
      kind: 'recipe',
      id,
      number: after.number,
      action: 'changed',
      changes: changesBetween({ ...before, revisions: null }, { ...after, revisions: null }),
    });
    return after;
  });
}

const sameMetals = (one: Pick<Recipe, 'baseMetals'>, other: Pick<Recipe, 'baseMetals'>) =>
  one.baseMetals.toSorted().join() === other.baseMetals.toSorted().join();

async function refuseDraftsThatAttack(
  tx: Parameters<typeof readRecipe>[0],
  recipe: Recipe,
  metals: Recipe['baseMetals'],
): Promise<void> {
  const steps = await queries.readSteps(
    tx,
    recipe.revisions.map(({ id }) => id),
  );
  for (const route of steps.values()) {
    try {
      refuseForbiddenMetals(metals, route);
    } catch (error) {
      if (error instanceof DomainError) throw fieldError('baseMetals', error.message);
      throw error;
    }
  }
}
