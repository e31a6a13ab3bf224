import type { NewStep, Recipe, RecipeItem, RecipeRevision } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
let app: TestApp;
let author: Person;
let second: Person;
let operator: Person;
beforeAll(async () => {
  app = await testApp();
  author = await app.as('lab');
  second = await app.as('quality');
  operator = await app.as('operator');
});

const step = (kind: NewStep['kind'], more: Partial<NewStep> = {}): NewStep => ({
  kind,
  title: kind,
  instructions: '',
  contents: null,
  durationS: 60,
  dripS: 10,
  settings: [],
  electrical: null,
  cautions: [],
  record: [],
  ...more,
});
const colour = (volts: number): NewStep =>
  step('colour', {
    contents: 'mild-salt',
    settings: [{ quantity: 'voltageV', target: volts, low: volts - 0.5, high: volts + 0.5 }],
    electrical: {
      mode: 'voltage',
      programme: [
        { kind: 'ramp', to: volts, seconds: 20 },
        { kind: 'hold', to: volts, seconds: 30 },
      ],
      peakCurrentDensityAPerM2: 200,
      steadyCurrentDensityAPerM2: 10,
      timeConstantS: 8,
      averageVoltageV: volts - 2,
      chargeCPerM2: null,
    },
    cautions: ['Supply off before touching the bars.'],
    record: ['voltageV', 'currentA', 'durationS'],
  });
const route = (volts = 28): NewStep[] => [
  step('clean', { contents: 'alkaline-clean' }),
  step('rinse', { contents: 'water-rinse' }),
  colour(volts),
  step('rinse', { contents: 'water-rinse', title: 'rinse again' }),
  step('inspect'),
];
const head = (name: string, more: object = {}) => ({
  name,
  family: 'interference-colour',
  baseMetals: ['titanium'],
  colour: 'blue',
  notes: '',
  ...more,
});

const start = (of: { ask?: Ask; name: string; steps?: NewStep[]; more?: object }) =>
  (of.ask ?? author)({
    method: 'POST',
    url: '/api/recipes',
    payload: { ...head(of.name, of.more), changeNote: 'first', steps: of.steps ?? route() },
  });
const started = async (name: string, steps = route()) =>
  (await start({ name, steps })).json<RecipeRevision>();
const act = (ask: Ask, of: { revision: RecipeRevision; verb: string; payload?: object }) =>
  ask({
    method: 'POST',
    url: `/api/recipe-revisions/${of.revision.id}/${of.verb}`,
    headers: { 'if-match': `"${of.revision.version}"` },
    payload: of.payload ?? {},
  });
const approve = (revision: RecipeRevision, ask: Ask = second) => act(ask, { revision, verb: 'approve' });
const save = (revision: RecipeRevision, steps: NewStep[], ask: Ask = author) =>
  ask({
    method: 'PUT',
    url: `/api/recipe-revisions/${revision.id}`,
    headers: { 'if-match': `"${revision.version}"` },
    payload: { changeNote: 'changed', steps },
  });
const read = async (id: number) => (await author({ url: `/api/recipes/${id}` })).json<Recipe>();
const statuses = async (id: number) =>
  (await read(id)).revisions.map(({ revision, status }) => [revision, status]);
const pathsOf = (reply: Awaited<ReturnType<Ask>>) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);

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
      'wrote in draft 2',
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
    const seen = await started('Changed meanwhile');
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
    expect(edit.json()).toMatchObject({ code: 'frozen' });
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
    const change = (more: object, version: number) =>
      author({
        method: 'PUT',
        url: `/api/recipes/${recipe.id}`,
        headers: { 'if-match': `"${version}"` },
        payload: { ...head('Head frozen', more), archived: false },
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
    const csv = await operator({ url: '/api/recipes/export?search=find%20me&sort=name' });
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
