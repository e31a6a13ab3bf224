import type { RecipeRevision } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { head, pathsOf, recipeDesk, route, step } from '../../../../../tests/support/recipes.ts';

const { app, author, second, operator, start, started, act, approve, save, statuses } = await recipeDesk();

describe('the life of a recipe', () => {
  it('runs from draft to approved to superseded, each step in the history', async () => {
    const first = await started('Life');
    expect(first).toMatchObject({
      revision: 1,
      status: 'draft',
      author: { id: author.personId },
      steps: route(),
    });
    expect(first.recipe.number).toMatch(/^R-\d{5}$/);

    const approved = await approve(first);
    expect(approved.statusCode).toBe(200);
    expect(approved.json()).toMatchObject({ status: 'approved', approvedBy: { id: second.personId } });

    const next = await act(author, { revision: first, verb: 'draft' });
    expect(next.statusCode).toBe(201);
    const draft = (await save(next.json<RecipeRevision>(), route(29))).json<RecipeRevision>();
    expect(await statuses(first.recipe.id)).toEqual([
      [2, 'draft'],
      [1, 'approved'],
    ]);
    expect((await approve(draft)).statusCode).toBe(200);
    expect(await statuses(first.recipe.id)).toEqual([
      [2, 'approved'],
      [1, 'superseded'],
    ]);

    const { items } = (await operator({ url: `/api/history/recipe/${first.recipe.id}` })).json<{
      items: { action: string; changes: { field: string }[] }[];
    }>();
    expect(items.map(({ action }) => action)).toEqual([
      'approved revision 2',
      'superseded revision 1',
      'edited draft 2',
      'started draft 2 from revision 1',
      'approved revision 1',
      'started with draft 1',
    ]);
    expect(items[2]?.changes.map(({ field }) => field)).toEqual(['step 3 settings', 'step 3 electrical']);
  });

  it('can be withdrawn with a reason, and drafted again from there', async () => {
    const revision = (await approve(await started('Withdrawn'))).json<RecipeRevision>();
    const bare = await act(second, { revision, verb: 'withdraw', payload: { reason: '' } });
    expect(pathsOf(bare)).toEqual(['reason']);
    const gone = await act(second, { revision, verb: 'withdraw', payload: { reason: 'shade drifts' } });
    expect(gone.json()).toMatchObject({ status: 'withdrawn' });
    expect((await act(second, { revision, verb: 'withdraw', payload: { reason: 'again' } })).statusCode).toBe(
      409,
    );
    expect((await act(author, { revision, verb: 'draft' })).json()).toMatchObject({
      revision: 2,
      status: 'draft',
    });
  });

  it('has one draft at a time, whoever starts it', async () => {
    const revision = (await approve(await started('One draft'))).json<RecipeRevision>();
    const both = await Promise.all([
      act(author, { revision, verb: 'draft' }),
      act(second, { revision, verb: 'draft' }),
    ]);
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
  });

  it('lets a draft go, but not the only one', async () => {
    const first = await started('Discarded');
    const discard = (revision: RecipeRevision) =>
      author({
        method: 'DELETE',
        url: `/api/recipe-revisions/${revision.id}`,
        headers: { 'if-match': `"${revision.version}"` },
      });
    expect((await discard(first)).statusCode).toBe(409);
    const approved = (await approve(first)).json<RecipeRevision>();
    expect((await discard(approved)).statusCode).toBe(409);
    const draft = (await act(author, { revision: approved, verb: 'draft' })).json<RecipeRevision>();
    expect((await discard(draft)).statusCode).toBe(200);
    expect(await statuses(first.recipe.id)).toEqual([[1, 'approved']]);
  });
});

describe('approval', () => {
  it('is never by the author, nor by anybody who wrote in the draft', async () => {
    const draft = await started('Second person');
    const own = await approve(draft, author);
    expect(own.statusCode).toBe(403);
    expect(own.json()).toMatchObject({ code: 'not-allowed' });

    const written = (await save(draft, route(29), second)).json<RecipeRevision>();
    expect(written.writers.map(({ id }) => id)).toEqual([author.personId, second.personId]);
    expect((await approve(written, second)).statusCode).toBe(403);
    expect((await approve(written, await app.as('quality'))).statusCode).toBe(200);
  });

  it('by a writer is refused by the database as well', async () => {
    const draft = (await save(await started('Database'), route(29), second)).json<RecipeRevision>();
    for (const approvedById of [author.personId, second.personId]) {
      await expect(
        app.db.prisma.recipeRevision.update({
          where: { id: draft.id },
          data: { status: 'approved', approvedById, approvedAt: new Date() },
        }),
      ).rejects.toThrow(/second_person|no_writer_approves/);
    }
  });

  it('happens once when two people approve at the same moment', async () => {
    const draft = await started('Two at once');
    const both = await Promise.all([approve(draft, second), approve(draft, await app.as('owner'))]);
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
    expect(await statuses(draft.recipe.id)).toEqual([[1, 'approved']]);
  });

  it('is of what was seen: a draft changed meanwhile is refused, showing it', async () => {
    const seen = await started('Changed in the meantime');
    await save(seen, route(31));
    const reply = await approve(seen);
    expect(reply.statusCode).toBe(412);
    expect(reply.json<{ current: RecipeRevision }>().current.steps[2]?.settings[0]?.target).toBe(31);
  });

  it('needs the step that the family is for', async () => {
    expect(pathsOf(await approve(await started('Empty', [])))).toEqual(['steps']);
    expect(pathsOf(await approve(await started('No colour', [step('inspect')])))).toEqual(['steps']);
  });

  it('belongs to those who may', async () => {
    const draft = await started('Permissions');
    expect((await approve(draft, operator)).statusCode).toBe(403);
    expect((await approve(draft, await app.as('estimator'))).statusCode).toBe(403);
    expect((await start({ ask: operator, name: 'Operator' })).statusCode).toBe(403);
    expect((await save(draft, route(), operator)).statusCode).toBe(403);
    expect((await operator({ url: `/api/recipe-revisions/${draft.id}` })).statusCode).toBe(200);
  });
});

describe('what was approved', () => {
  it('is frozen for the service and for the database', async () => {
    const revision = (await approve(await started('Frozen'))).json<RecipeRevision>();
    const edit = await save(revision, route(40));
    expect(edit.statusCode).toBe(409);
    expect(edit.json()).toMatchObject({ code: 'immutable' });
    const { prisma } = app.db;
    await expect(
      prisma.recipeStep.updateMany({ where: { revisionId: revision.id }, data: { durationS: 1 } }),
    ).rejects.toThrow(/cannot be changed/);
    await expect(prisma.recipeStep.deleteMany({ where: { revisionId: revision.id } })).rejects.toThrow();
    await expect(
      prisma.recipeRevision.update({ where: { id: revision.id }, data: { changeNote: 'touched' } }),
    ).rejects.toThrow(/cannot be changed/);
    await expect(prisma.recipeRevision.delete({ where: { id: revision.id } })).rejects.toThrow();
  });

  it('keeps the family and metals of its recipe', async () => {
    const { recipe } = (await approve(await started('Head frozen'))).json<RecipeRevision>();
    const change = (extra: object, version: number) =>
      author({
        method: 'PUT',
        url: `/api/recipes/${recipe.id}`,
        headers: { 'if-match': `"${version}"` },
        payload: { ...head('Head frozen', extra), archived: false },
      });
    const metals = await change({ baseMetals: ['titanium', 'niobium'] }, 1);
    expect(metals.statusCode).toBe(409);
    expect(pathsOf(metals)).toEqual(['baseMetals']);
    expect((await change({ colour: 'deep blue' }, 1)).json()).toMatchObject({
      colour: 'deep blue',
      version: 2,
    });
    const late = await change({ colour: 'violet' }, 1);
    expect(late.statusCode).toBe(412);
    expect(late.json()).toMatchObject({ current: { colour: 'deep blue' } });
    await expect(
      app.db.prisma.recipe.update({ where: { id: recipe.id }, data: { baseMetals: ['niobium'] } }),
    ).rejects.toThrow(/approved for its metals/);
  });
});
