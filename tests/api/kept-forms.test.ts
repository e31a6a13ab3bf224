import { describe, expect, it } from 'vitest';
import { mainLine, ok } from '../support/main-line.ts';

const { db, estimator, planner } = await mainLine();

interface Kept {
  id: number;
  path: string;
  title: string;
  version: number;
}
const put = (body: object, who = estimator) =>
  who({ method: 'PUT', url: '/api/me/kept-forms', payload: body });
const half = {
  path: '/recipes/new',
  title: 'New recipe',
  version: 0,
  values: { name: 'Peacock', steps: [{}] },
};

describe('a form that could only be saved whole', () => {
  it('is kept half-written, once for each form, and comes back as it was typed', async () => {
    await ok(put(half));
    await ok(put({ ...half, values: { name: 'Peacock blue', steps: [] } }));
    const { items } = await ok<{ items: Kept[] }>(estimator({ url: '/api/me/kept-forms' }));
    expect(items).toMatchObject([{ path: '/recipes/new', title: 'New recipe', version: 0 }]);
    const kept = await ok<{ values: unknown }>(estimator({ url: `/api/me/kept-forms/${items[0]?.id}` }));
    expect(kept.values).toEqual({ name: 'Peacock blue', steps: [] });
  });

  it('is nobody else’s to see or discard', async () => {
    const { id } = await ok<Kept>(put(half));
    expect((await planner({ url: `/api/me/kept-forms/${id}` })).statusCode).toBe(404);
    expect((await planner({ method: 'DELETE', url: `/api/me/kept-forms/${id}` })).statusCode).toBe(404);
    expect(await ok<{ items: Kept[] }>(planner({ url: '/api/me/kept-forms' }))).toEqual({ items: [] });
  });

  it('is gone once discarded, and the audit trail says so', async () => {
    const { id } = await ok<Kept>(put(half));
    await ok(estimator({ method: 'DELETE', url: `/api/me/kept-forms/${id}` }));
    expect((await estimator({ url: `/api/me/kept-forms/${id}` })).statusCode).toBe(404);
    const actions = await db.prisma.auditEntry.findMany({ orderBy: { id: 'desc' }, take: 2 });
    expect(actions.map(({ action }) => action)).toEqual([
      'removed the half-written “New recipe”',
      'kept “New recipe” half-written',
    ]);
  });

  it.each([
    ['an address elsewhere', { ...half, path: 'https://elsewhere.example' }, 'path'],
    ['more than can be kept', { ...half, values: { notes: 'x'.repeat(200_001) } }, 'values'],
    ['no title', { ...half, title: ' ' }, 'title'],
  ])('%s is refused by its field', async (_, body, path) => {
    const reply = await put(body);
    expect(reply.statusCode).toBe(422);
    expect(reply.json<{ issues: { path: string }[] }>().issues.map((issue) => issue.path)).toEqual([path]);
  });
});

it('rows stand as close as each person likes, and a screen that says nothing of it changes nothing', async () => {
  const prefer = (body: object) => estimator({ method: 'PUT', url: '/api/me/preferences', payload: body });
  const density = async () =>
    (await ok<{ person: { density: string } }>(estimator({ url: '/api/me' }))).person.density;
  expect(await density()).toBe('roomy');
  await ok(prefer({ units: 'metric', theme: 'system', density: 'dense' }));
  await ok(prefer({ units: 'us', theme: 'system' }));
  expect(await density()).toBe('dense');
  expect((await prefer({ units: 'us', theme: 'system', density: 'tiny' })).statusCode).toBe(422);
});
