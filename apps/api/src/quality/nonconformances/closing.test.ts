import type { Nonconformance } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import type { Ask } from '../../../../../tests/support/app.ts';
import { ok, post } from '../../../../../tests/support/main-line.ts';
import { nonconformingLine } from '../../../../../tests/support/nonconforming.ts';

const { app, as, planner, operator, quality, ...line } = await nonconformingLine();
const { checked, open, dispose, entry, checkOf, answer } = line;
const other = await as('quality');

describe('closing a nonconformance', () => {
  it('went without what it takes; afterwards it is opened again only with a reason', async () => {
    const lot = await checked();
    const { id, missing } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    expect(missing).toEqual(['a disposition of 4 more pieces', 'the cause', 'an action against the cause']);
    const close = () => post(quality, `/nonconformances/${id}/close`, { text: 'ramps matter' });
    expect((await close()).body).toContain('cannot be closed without a disposition');
    expect((await answer(id)).missing).toEqual(['a disposition of 4 more pieces']);
    await ok(dispose(id), 201);
    expect(await ok<Nonconformance>(close())).toMatchObject({ state: 'closed', missing: [] });
    expect((await close()).statusCode).toBe(409);
    expect((await entry(id, { kind: 'cause', text: 'late' })).statusCode).toBe(409);
    const reopen = (reason: string) => post(quality, `/nonconformances/${id}/reopen`, { reason });
    expect((await reopen('')).statusCode).toBe(422);
    const again = await ok<Nonconformance>(reopen('came back'));
    expect(again).toMatchObject({ state: 'open', missing: ['what was done since it was opened again'] });
    await ok(entry(id, { kind: 'containment', text: 'two more lots looked at' }), 201);
    expect(await ok<Nonconformance>(close())).toMatchObject({ state: 'closed' });
  });

  it('judged an action by its own owner, before it was done, or by nobody who may', async () => {
    const lot = await checked();
    const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
    const { entries } = await ok<Nonconformance>(
      entry(id, { kind: 'action', text: 'new gasket', ownerId: quality.personId, dueOn: '2026-01-20' }),
      201,
    );
    const actionId = entries.at(-1)?.id;
    const judge = (ask: Ask) => entry(id, { kind: 'effect', text: 'seen', actionId, effective: true }, ask);
    expect((await judge(other)).body).toContain('not done yet');
    expect((await entry(id, { kind: 'action-done', text: 'done', actionId }, operator)).statusCode).toBe(403);
    await ok(entry(id, { kind: 'action-done', text: 'done', actionId }), 201);
    expect((await entry(id, { kind: 'action-done', text: 'done', actionId })).statusCode).toBe(409);
    expect((await judge(quality)).body).toContain('somebody else than its owner');
    expect((await judge(operator)).statusCode).toBe(403);
    await ok(judge(other), 201);
    expect((await entry(id, { kind: 'action-done', text: 'x', actionId: 999_999 })).statusCode).toBe(422);
  });

  it('was done by who may not', async () => {
    const lot = await checked();
    const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot), operator), 201);
    for (const ask of [planner, operator]) {
      expect((await dispose(id, {}, ask)).statusCode).toBe(403);
      expect((await post(ask, `/nonconformances/${id}/close`, { text: 'x' })).statusCode).toBe(403);
    }
    expect((await open(lot.id, {}, await as('estimator'))).statusCode).toBe(403);
    expect((await app.inject({ url: '/api/nonconformances' })).statusCode).toBe(401);
  });
});

it('its cost adds up to the cent, and an operator does not see it', async () => {
  const lot = await checked();
  const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
  const cost = (amount: string, costKind = 'labour') =>
    entry(id, { kind: 'cost', text: '', costKind, amount });
  await ok(cost('120.10'), 201);
  await ok(cost('0.20', 'chemistry'), 201);
  expect(await ok<Nonconformance>(cost('-20.30'), 201)).toMatchObject({ cost: { total: '100.00' } });
  expect((await cost('1.234')).statusCode).toBe(422);
  expect((await cost('much')).statusCode).toBe(422);
  const seen = await ok<Nonconformance>(operator({ url: `/api/nonconformances/${id}` }));
  expect(seen.cost).toBeNull();
  expect(JSON.stringify(seen)).not.toContain('120.10');
});

it('waits on Today while it is open, and so does an overdue action', async () => {
  const total = async (ask: Ask, key: string) => {
    const { sections } = await ok<{ sections: { key: string; total: number }[] }>(ask({ url: '/api/today' }));
    return sections.find((one) => one.key === key)?.total ?? 0;
  };
  const counts = () =>
    Promise.all([
      ...[total(quality, 'nonconformances'), total(quality, 'actions')],
      ...[total(operator, 'actions'), total(planner, 'actions')],
    ]);
  const [open0 = 0, seen0 = 0, mine0 = 0, other0 = 0] = await counts();
  const lot = await checked();
  const { id } = await ok<Nonconformance>(open(lot.id, checkOf(lot)), 201);
  await ok(
    entry(id, { kind: 'action', text: 'new gasket', ownerId: operator.personId, dueOn: '2026-01-20' }),
    201,
  );
  expect(await counts()).toEqual([open0 + 1, seen0 + 1, mine0 + 1, other0]);
  const list = await ok<{ items: { id: number; overdueDays: number }[] }>(
    quality({ url: `/api/nonconformances?state=open&lotId=${lot.id}` }),
  );
  expect(list.items.map((one) => one.id)).toEqual([id]);
  expect(list.items[0]?.overdueDays).toBeGreaterThan(100);
});
