import type { BaseMetal, Family, Recipe, RecipeRevision, RevisionItem, Step } from '@huelot/contracts';
import type { Queryable } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

const iso = (date: Date | null) => date?.toISOString() ?? null;

const toHead = ({ version: _, ...row }: queries.RecipeRow): RecipeRevision['recipe'] => ({
  ...row,
  family: row.family as Family,
  baseMetals: row.baseMetals as BaseMetal[],
  archivedAt: iso(row.archivedAt),
  createdAt: row.createdAt.toISOString(),
});
const toItem = ({ recipeId: _, approvedHead: __, ...row }: queries.RevisionRow): RevisionItem => ({
  ...row,
  createdAt: row.createdAt.toISOString(),
  approvedAt: iso(row.approvedAt),
  supersededAt: iso(row.supersededAt),
});
function toRevision(row: queries.RevisionRow, head: queries.RecipeRow, steps: Step[]): RecipeRevision {
  return { ...toItem(row), recipe: { ...toHead(head), ...row.approvedHead }, steps };
}

/** One recipe with its revisions. */
export async function readRecipe(db: Queryable, id: number): Promise<Recipe> {
  const head = orNotFound(await queries.readHead(db, id), `recipe ${id}`);
  const revisions = (await queries.readRevisions(db.execute, id)).map(toItem);
  return {
    ...toHead(head),
    version: head.version,
    revisions,
    headOpen: revisions.every(({ status }) => status === 'draft'),
  };
}

/** One revision with its steps. */
export async function readRevision(db: Queryable, id: number): Promise<RecipeRevision> {
  const row = orNotFound(await queries.readRevision(db.execute, id), `recipe revision ${id}`);
  const head = orNotFound(await queries.readHead(db, row.recipeId), `recipe ${row.recipeId}`);
  return toRevision(row, head, (await queries.readSteps(db, [id])).get(id) ?? []);
}

/**
 * The approved revision of every recipe in use, with its steps: what may be quoted and released.
 *
 * @example
 * const usable = await readUsableRevisions(db);
 */
export async function readUsableRevisions(db: Queryable): Promise<RecipeRevision[]> {
  const rows = await queries.readApproved(db.execute);
  const heads = new Map(
    (
      await queries.readHeads(
        db,
        rows.map(({ recipeId }) => recipeId),
      )
    ).map((head) => [head.id, head]),
  );
  const steps = await queries.readSteps(
    db,
    rows.map(({ id }) => id),
  );
  return rows.flatMap((row) => {
    const head = heads.get(row.recipeId);
    return head === undefined ? [] : [toRevision(row, head, steps.get(row.id) ?? [])];
  });
}
