import { pairSteps, type RecipeRevision, type saveDraft, type Step } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit, type Change } from '../../core/audit/index.ts';
import { refuseForbiddenMetals } from './check-route.ts';
import * as queries from './queries.ts';
import { readRevision } from './views.ts';

/** The revision with its recipe locked, so that nobody approves, saves or drafts beside it. */
export async function readLocked(tx: Tx, id: number): Promise<RecipeRevision> {
  const row = orNotFound(await queries.readRevision(tx.execute, id), `recipe revision ${id}`);
  await queries.lockRecipe(tx.execute, row.recipeId);
  return readRevision(tx, id);
}

function refuseUnlessDraft({ status, revision, recipe }: RecipeRevision, what: string): void {
  if (status !== 'draft') {
    throw new DomainError(
      'immutable',
      `Revision ${revision} of ${recipe.number} is ${status}: it cannot be ${what}. Start a new draft from it.`,
    );
  }
}

/** Writes the steps of a draft. Whoever writes in it cannot approve it. */
export async function writeDraft(
  db: Db,
  {
    actor,
    id,
    version,
    input,
  }: { actor: Actor; id: number; version: number; input: z.output<typeof saveDraft.body> },
): Promise<RecipeRevision> {
  return inTransaction(db, async (tx) => {
    const before = await readLocked(tx, id);
    const { recipe, revision } = before;
    refuseUnlessDraft(before, 'changed');
    assertVersion({ stored: before, version, what: `Draft ${revision} of ${recipe.number}` });
    refuseForbiddenMetals(recipe.baseMetals, input.steps);
    const writers = before.writers.map(({ id: writer }) => writer);
    await queries.changeDraft(tx, id, {
      changeNote: input.changeNote,
      writerIds: writers.includes(actor.personId) ? writers : [...writers, actor.personId],
    });
    await queries.writeSteps(tx, id, input.steps);
    const after = await readRevision(tx, id);
    await writeAudit(tx.execute, actor, {
      kind: 'recipe',
      id: recipe.id,
      number: recipe.number,
      action: `edited draft ${revision}`,
      changes: changesInWords(before.steps, after.steps),
    });
    return after;
  });
}

/** For the history: one row for each field of each step that differs, by the position and title people see. */
function changesInWords(before: readonly Step[], after: readonly Step[]): Change[] {
  return pairSteps(before, after).flatMap(({ older, newer, changed }): Change[] => {
    if (older === null && newer !== null) {
      return [{ field: `step ${newer.position}`, old: null, new: newer.step.title }];
    }
    if (older !== null && newer === null) {
      return [{ field: `step ${older.position}`, old: older.step.title, new: null }];
    }
    return changed.map((field) => ({
      field: `step ${newer?.position ?? 0} ${field}`,
      old: older?.step[field] ?? null,
      new: newer?.step[field] ?? null,
    }));
  });
}

/** Starts the next draft with the steps of any revision. */
export async function startDraft(
  db: Db,
  { actor, fromId }: { actor: Actor; fromId: number },
): Promise<RecipeRevision> {
  return inTransaction(db, async (tx) => {
    const from = await readLocked(tx, fromId);
    const { recipe } = from;
    if (recipe.archivedAt !== null) {
      throw new DomainError('conflict', `${recipe.number} is archived: put it back on the lists first.`);
    }
    const revisions = await queries.readRevisions(tx.execute, recipe.id);
    const open = revisions.find(({ status }) => status === 'draft');
    if (open !== undefined) {
      throw new DomainError(
        'conflict',
        `Revision ${open.revision} is a draft already, started by ${open.author.displayName}: edit that one.`,
      );
    }
    const revision = Math.max(...revisions.map((row) => row.revision)) + 1;
    const { id } = await queries.addRevision(tx, {
      recipeId: recipe.id,
      revision,
      changeNote: '',
      authorId: actor.personId,
    });
    await queries.writeSteps(tx, id, from.steps);
    await writeAudit(tx.execute, actor, {
      kind: 'recipe',
      id: recipe.id,
      number: recipe.number,
      action: `started draft ${revision} from revision ${from.revision}`,
    });
    return readRevision(tx, id);
  });
}

/** Throws a draft away. The first one stays: without it there is no recipe. */
export async function discardDraft(
  db: Db,
  { actor, id, version }: { actor: Actor; id: number; version: number },
): Promise<void> {
  await inTransaction(db, async (tx) => {
    const draft = await readLocked(tx, id);
    const { recipe, revision } = draft;
    refuseUnlessDraft(draft, 'discarded');
    assertVersion({ stored: draft, version, what: `Draft ${revision} of ${recipe.number}` });
    if ((await queries.readRevisions(tx.execute, recipe.id)).length === 1) {
      throw new DomainError(
        'conflict',
        `It is the only revision of ${recipe.number}: archive the recipe instead.`,
      );
    }
    await queries.removeDraft(tx, id);
    await writeAudit(tx.execute, actor, {
      kind: 'recipe',
      id: recipe.id,
      number: recipe.number,
      action: `discarded draft ${revision}`,
      changes: changesInWords(draft.steps, []),
    });
  });
}
