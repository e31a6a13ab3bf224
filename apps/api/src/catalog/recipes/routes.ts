import * as contract from '@huelot/contracts';
import type { RecipeItem } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import type { SqlExecutor } from '../../db/client.ts';
import { actorMay } from '../../kernel/actor.ts';
import { csvFile } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound, fieldError } from '../../kernel/refusal.ts';
import { approvalOf } from '../../core/people/index.ts';
import { approveRecipe, type CheckEvidence, withdrawRecipe } from './approval.ts';
import { discardDraft, startDraft, writeDraft } from './drafts.ts';
import * as queries from './queries.ts';
import { addRecipe, changeRecipe } from './recipes.ts';
import { readRecipe, readRevision } from './views.ts';

const afterKey = (cursor: string | undefined) => {
  const [key, id] = decodeCursor(cursor, ['string', 'number']) ?? [];
  return typeof key === 'string' && typeof id === 'number' && Number.isInteger(id) ? { key, id } : null;
};
const afterUse = (cursor: string | undefined) => {
  const [at, kind, id] = decodeCursor(cursor, ['string', 'string', 'number']) ?? [];
  const known = typeof at === 'string' && typeof kind === 'string' && typeof id === 'number';
  if (!known) return null;
  if (Number.isNaN(Date.parse(at)) || !Number.isInteger(id)) {
    throw fieldError('after', 'must be the "next" of an earlier page');
  }
  return { at: new Date(at).toISOString(), kind, id };
};

/** The colour that the evidence of each revision was measured to be, by the revision. */
export type ReadMeasured = (
  execute: SqlExecutor,
  revisionIds: readonly number[],
) => Promise<ReadonlyMap<number, NonNullable<RecipeItem['measured']>>>;

/** `checkEvidence` and `readMeasured` ask the evidence that stands in the wing above. */
export default function recipes(
  app: FastifyInstance,
  { checkEvidence, readMeasured }: { checkEvidence: CheckEvidence; readMeasured: ReadMeasured },
): void {
  const { db } = app;
  const items = async (asked: queries.ItemsAsked): Promise<RecipeItem[]> => {
    const rows = await queries.readItems(db.execute, asked);
    const measured = await readMeasured(
      db.execute,
      rows.flatMap(({ approved }) => approved?.id ?? []),
    );
    return rows.map((row) => ({ ...row, measured: measured.get(row.approved?.id ?? 0) ?? null }));
  };

  registerRoute(app, contract.listRecipes, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await items({ ...asked, after: afterKey(after), limit });
    const key = asked.sort?.endsWith('name') ? 'name' : 'number';
    return toPage({ rows, limit, cursorOf: (row) => [row[key], row.id] });
  });
  registerRoute(app, contract.exportRecipes, async ({ query, reply }) => {
    const rows = await items({ ...query, after: null, limit: 50_000 });
    return csvFile(reply, {
      name: 'recipes',
      heads: [
        'number',
        'name',
        'family',
        'baseMetals',
        'colour',
        'L',
        'a',
        'b',
        'approvedRevision',
        'approvedAt',
        'draft',
      ],
      rows: rows.map((row) => [
        ...[row.number, row.name, row.family, row.baseMetals.join(' '), row.colour],
        ...[row.measured?.lab.L, row.measured?.lab.a, row.measured?.lab.b],
        ...[row.approved?.revision, row.approved?.approvedAt, row.draft?.revision],
      ]),
    });
  });
  registerRoute(app, contract.getRecipe, ({ params }) => readRecipe(db, params.id));
  registerRoute(app, contract.createRecipe, ({ actor, body }) => addRecipe(db, { actor, input: body }));
  registerRoute(app, contract.updateRecipe, ({ actor, params, version, body }) =>
    changeRecipe(db, { actor, id: params.id, version, input: body }),
  );

  registerRoute(app, contract.getRecipeRevision, ({ params }) => readRevision(db, params.id));
  registerRoute(app, contract.compareRecipeRevisions, async ({ params }) => {
    const one = await readRevision(db, params.id);
    const other = await readRevision(db, params.withId);
    if (one.recipe.id !== other.recipe.id) {
      throw fieldError('withId', 'must be a revision of the same recipe');
    }
    return one.revision <= other.revision ? { older: one, newer: other } : { older: other, newer: one };
  });
  registerRoute(app, contract.saveDraft, ({ actor, params, version, body }) =>
    writeDraft(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.startDraft, ({ actor, params }) =>
    startDraft(db, { actor, fromId: params.id }),
  );
  registerRoute(app, contract.discardDraft, async ({ actor, params, version }) => {
    await discardDraft(db, { actor, id: params.id, version });
    return {};
  });
  registerRoute(app, contract.getRecipeApproval, async ({ actor, params }) => {
    const { writers } = await readRevision(db, params.id);
    return approvalOf(db, { actor, writers, permission: 'recipes.approve' });
  });
  registerRoute(app, contract.approveRevision, ({ actor, params, version, body }) =>
    approveRecipe(db, { ...{ actor, id: params.id, version, checkEvidence }, ...body }),
  );
  registerRoute(app, contract.withdrawRevision, ({ actor, params, version, body }) =>
    withdrawRecipe(db, { actor, id: params.id, version, reason: body.reason }),
  );

  registerRoute(app, contract.listRecipeUses, async ({ actor, params, query }) => {
    orNotFound(await queries.readHead(db, params.id), `recipe ${params.id}`);
    const limit = query.limit ?? 50;
    const readable = { quotation: 'quotations.read', order: 'orders.read', lot: 'lots.read' } as const;
    const kinds = (['quotation', 'order', 'lot'] as const).filter((kind) => actorMay(actor, readable[kind]));
    const rows = await queries.readUses(db.execute, {
      recipeId: params.id,
      kinds,
      after: afterUse(query.after),
      limit,
    });
    const { items, next } = toPage({
      rows,
      limit,
      cursorOf: (row) => [row.at.toISOString(), row.kind, row.id],
    });
    return { items: items.map((row) => ({ ...row, at: row.at.toISOString() })), next };
  });
}
