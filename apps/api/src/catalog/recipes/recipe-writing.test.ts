import type { RecipeItem, RecipeRevision } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { head, colour, pathsOf, recipeDesk, route, step } from '../../../../../tests/support/recipes.ts';

const { app, author, second, operator, start, started, act, approve, save } = await recipeDesk();

describe('forbidden metals', () => {
  const caustic = step('clean', { contents: 'hot-caustic' });

  it.each([
    ['tantalum', 'hot-caustic'],
    ['niobium', 'hot-caustic'],
    ['tantalum', 'alkaline-etch'],
  ] as const)('%s is never planned into %s, and the step is named', async (metal, contents) => {
    const reply = await start({
      name: 'Forbidden',
      more: { baseMetals: ['titanium', metal] },
      steps: [step('inspect'), step('etch', { contents })],
    });
    expect(reply.statusCode).toBe(422);
    expect(pathsOf(reply)).toEqual(['steps.1.contents']);
    expect(reply.json<{ detail: string }>().detail).toContain(`step 2: ${metal}`);
  });

  it('aluminium is etched in alkali but never put into hot caustic', async () => {
    const dyed = { family: 'dyed-anodize', baseMetals: ['aluminium'] };
    const etched = await start({
      name: 'Etched',
      more: dyed,
      steps: [step('etch', { contents: 'alkaline-etch' })],
    });
    expect(etched.statusCode).toBe(201);
    const draft = etched.json<RecipeRevision>();
    const eaten = await save(draft, [caustic]);
    expect(pathsOf(eaten)).toEqual(['steps.0.contents']);
    const unchanged = (await author({ url: `/api/recipe-revisions/${draft.id}` })).json<RecipeRevision>();
    expect(unchanged).toMatchObject({ version: 1, steps: draft.steps });
  });

  it('cannot come in by the head of a draft, nor by a route written around the service', async () => {
    const draft = (await start({ name: 'By the head', steps: [caustic, colour(28)] })).json<RecipeRevision>();
    const change = await author({
      method: 'PUT',
      url: `/api/recipes/${draft.recipe.id}`,
      headers: { 'if-match': '"1"' },
      payload: { ...head('By the head', { baseMetals: ['tantalum'] }), archived: false },
    });
    expect(pathsOf(change)).toEqual(['baseMetals']);
    await app.db.prisma.recipe.update({
      where: { id: draft.recipe.id },
      data: { baseMetals: ['tantalum'] },
    });
    expect(pathsOf(await approve(draft))).toEqual(['steps.0.contents']);
  });

  it('a family is for its own metals', async () => {
    const reply = await start({ name: 'Steel', more: { baseMetals: ['titanium', 'steel'] } });
    expect(pathsOf(reply)).toEqual(['baseMetals.1']);
  });
});

describe('writing a draft', () => {
  it('refuses a stale edit and shows what stands', async () => {
    const draft = await started('Stale');
    await save(draft, route(29));
    const late = await save(draft, route(30), second);
    expect(late.statusCode).toBe(412);
    expect(late.json<{ current: RecipeRevision }>().current.steps[2]?.settings[0]?.target).toBe(29);
  });

  it('names the field of the step that is wrong, and keeps the draft whole', async () => {
    const draft = await started('Wrong field');
    const broken = route();
    broken[2] = { ...colour(28), settings: [{ quantity: 'voltageV', target: 28, low: 29, high: 30 }] };
    const reply = await save(draft, broken);
    expect(reply.statusCode).toBe(422);
    expect(pathsOf(reply)).toEqual(['steps.2.settings.0.low']);
    expect((await author({ url: `/api/recipe-revisions/${draft.id}` })).json()).toMatchObject({ version: 1 });
  });
});

describe('finding recipes', () => {
  it('by words, metal and what waits, page by page', async () => {
    for (const name of ['Find me C', 'Find me A', 'Find me B']) await started(name);
    const first = (await operator({ url: '/api/recipes?search=find%20me&sort=name&limit=2' })).json<{
      items: RecipeItem[];
      next: string;
    }>();
    expect(first.items.map(({ name }) => name)).toEqual(['Find me A', 'Find me B']);
    const rest = await operator({
      url: `/api/recipes?search=find%20me&sort=name&limit=2&after=${first.next}`,
    });
    expect(rest.json<{ items: RecipeItem[] }>().items.map(({ name }) => name)).toEqual(['Find me C']);
    const down = (await operator({ url: '/api/recipes?search=find%20me&sort=-name' })).json<{
      items: RecipeItem[];
    }>();
    expect(down.items.map(({ name }) => name)).toEqual(['Find me C', 'Find me B', 'Find me A']);

    await approve(await started('Find me approved'));
    const approved = await operator({ url: '/api/recipes?search=find%20me&has=approved' });
    expect(approved.json<{ items: RecipeItem[] }>().items).toMatchObject([
      { name: 'Find me approved', approved: { revision: 1 }, draft: null },
    ]);
    const steel = await operator({ url: '/api/recipes?search=find%20me&baseMetal=steel' });
    expect(steel.json()).toEqual({ items: [], next: null });
    const csv = await operator({ url: '/api/recipes.csv?search=find%20me&sort=name' });
    expect(csv.body.split('\r\n')).toHaveLength(6);
    expect((await operator({ url: '/api/recipes?after=nonsense' })).statusCode).toBe(422);
  });

  it('two revisions side by side, the older first', async () => {
    const one = (await approve(await started('Compared'))).json<RecipeRevision>();
    const two = (await act(author, { revision: one, verb: 'draft' })).json<RecipeRevision>();
    const pair = await operator({ url: `/api/recipe-revisions/${two.id}/compare/${one.id}` });
    expect(pair.json()).toMatchObject({ older: { revision: 1 }, newer: { revision: 2 } });
    const other = await started('Another');
    const strangers = await operator({ url: `/api/recipe-revisions/${two.id}/compare/${other.id}` });
    expect(pathsOf(strangers)).toEqual(['withId']);
  });

  it('where it is used, as far as the asker may see', async () => {
    const { recipe } = await started('Unused');
    for (const ask of [operator, author, await app.as('owner')]) {
      expect((await ask({ url: `/api/recipes/${recipe.id}/uses` })).json()).toEqual({
        items: [],
        next: null,
      });
    }
    expect((await operator({ url: '/api/recipes/999999/uses' })).statusCode).toBe(404);
  });
});
