import type { Lot, Order, Traveler } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { good, mainLine, ok, post, reading, signOff } from '../support/main-line.ts';

const { db, shop, planner, operator, quality, releasedLots, opened } = await mainLine();

test('a correction stands beside the reading, and the search finds the corrected figure', async () => {
  const [lot] = await releasedLots();
  const { steps } = await opened(lot?.id ?? 0);
  const signed = await ok<Traveler>(
    post(operator, `/steps/${steps[0]?.id}/sign-off`, signOff(24, [reading('temperatureC', 56)])),
    201,
  );
  const signOffId = signed.steps[0]?.signOff?.id;
  const corrected = await ok<Traveler>(
    post(operator, `/sign-offs/${signOffId}/corrections`, {
      quantity: 'temperatureC',
      newValue: 58.5,
      reason: 'misread',
    }),
    201,
  );
  expect(corrected.steps[0]?.signOff?.readings[0]?.value).toBe(56);
  expect(corrected.steps[0]?.signOff?.corrections[0]).toMatchObject({ oldValue: 56, newValue: 58.5 });
  const hits = await ok<{ items: { signOffId: number }[] }>(
    quality({ url: '/api/trace?settings=temperatureC:58.4:58.6' }),
  );
  expect(hits.items.map((hit) => hit.signOffId)).toContain(signOffId);
  await expect(
    db.pool.query(`update step_reading set value = 1 where "signOffId" = ${signOffId}`),
  ).rejects.toMatchObject({ code: 'HU001' });
});

test('a new revision supersedes the traveler; only it is signed, and what was signed counts', async () => {
  const [lot] = await releasedLots();
  const lotId = lot?.id ?? 0;
  const old = await opened(lotId);
  await ok(post(operator, `/steps/${old.steps[0]?.id}/sign-off`, signOff(24, good[1] ?? [])), 201);
  const next = await ok<Traveler>(
    post(planner, `/lots/${lotId}/travelers`, {
      changeNote: 'same tanks, new paper',
      recipeRevisionId: null,
      tanks: shop.tanks,
      supplyId: shop.supplyId,
    }),
    201,
  );
  expect([next.number, next.revision, next.steps[0]?.carried]).toEqual([old.number, 2, true]);
  expect((await post(operator, `/steps/${old.steps[1]?.id}/sign-off`, signOff(24, []))).json()).toMatchObject(
    { code: 'not-current' },
  );
  const found = await ok<{ traveler: { status: string }; current: { revision: number } }>(
    operator({ url: `/api/travelers/by-number/${old.number}/1` }),
  );
  expect([found.traveler.status, found.current.revision]).toEqual(['superseded', 2]);
  await ok(post(operator, `/steps/${next.steps[1]?.id}/sign-off`, signOff(24, [])), 201);
});

test('a changed order line reaches the floor as a new traveler revision', async () => {
  const [lot] = await releasedLots();
  const { order } = await ok<Lot>(planner({ url: `/api/lots/${lot?.id}` }));
  const { lines } = await ok<Order>(planner({ url: `/api/orders/${order.id}` }));
  const [line] = lines;
  const payload = {
    quantity: 48,
    totalPrice: '170.00',
    dueDate: '2099-02-01',
    recipeRevisionId: shop.recipeRevisionId,
    notes: '',
    reason: 'customer moved the date',
  };
  await ok(
    planner({
      method: 'PUT',
      url: `/api/order-lines/${line?.id}`,
      payload,
      headers: { 'if-match': `"${line?.version}"` },
    }),
  );
  const now = await opened(lot?.id ?? 0);
  expect([now.revision, now.head.dueDate, now.changeNote]).toEqual([
    2,
    '2099-02-01',
    'customer moved the date',
  ]);
});

test('the audit trail only grows', async () => {
  await expect(db.pool.query('delete from audit_entry')).rejects.toMatchObject({ code: 'HU001' });
  await expect(db.pool.query(`update audit_entry set "personName" = 'x'`)).rejects.toMatchObject({
    code: 'HU001',
  });
  await expect(db.pool.query('truncate audit_entry')).rejects.toMatchObject({ code: 'HU001' });
});
