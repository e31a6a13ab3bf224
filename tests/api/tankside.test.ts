import type { Lot, LotTrace, Traveler } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { hashSecret } from '../../apps/api/src/core/people/secrets.ts';
import { good, mainLine, ok, post, reading, signOff } from '../support/main-line.ts';

const { db, as, operator, quality, releasedLots, opened, signAll } = await mainLine();

test('every step signed in turn finishes the lot; the figures reach the trace', async () => {
  const [lot] = await releasedLots();
  const lotId = lot?.id ?? 0;
  const traveler = await opened(lotId);
  // 24 pieces of 4200 mm² at 200 A/m² = 20.16 A by hand; the rack of the test has no bare area.
  expect(traveler.steps[2]?.load?.peakCurrentA).toBeCloseTo(20.16, 9);
  const done = await signAll(lotId);
  expect(done.status).toBe('complete');
  expect(done.lot.status).toBe('finished');
  await ok(
    post(quality, `/lots/${lotId}/final-check`, {
      acceptedCount: 24,
      rejectedCount: 0,
      reworkCount: 0,
      reason: '',
      notes: '',
    }),
    201,
  );
  const shipped = await ok<Lot>(
    post(quality, `/lots/${lotId}/shipments`, { quantity: 24, carrier: 'van', document: 'D1', notes: '' }),
    201,
  );
  expect(shipped.status).toBe('shipped');
  const trace = await ok<LotTrace>(quality({ url: `/api/lots/${lotId}/trace` }));
  expect(trace.events.map(({ kind }) => kind)).toEqual([
    'quoted',
    'ordered',
    'received',
    'released',
    'traveler',
    'step',
    'step',
    'step',
    'step',
    'check',
    'shipped',
  ]);
  const hits = await ok<{ items: { lotId: number }[] }>(
    quality({ url: '/api/trace?stepKind=colour&settings=voltageV:29.5:30.5' }),
  );
  expect(hits.items.map((hit) => hit.lotId)).toContain(lotId);
  const none = await ok<{ items: unknown[] }>(quality({ url: '/api/trace?settings=voltageV:90:95' }));
  expect(none.items).toEqual([]);
});

test('steps are signed in order, each once, whoever comes first', async () => {
  const [lot] = await releasedLots();
  const { steps } = await opened(lot?.id ?? 0);
  expect(
    (await post(operator, `/steps/${steps[2]?.id}/sign-off`, signOff(24, good[3] ?? []))).json(),
  ).toMatchObject({ code: 'conflict', detail: expect.stringContaining('Step 1 comes first') as string });
  const others = await Promise.all([as('operator'), as('operator'), as('operator')]);
  const tries = await Promise.all(
    others.map((ask) => post(ask, `/steps/${steps[0]?.id}/sign-off`, signOff(24, good[1] ?? []))),
  );
  expect(tries.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409]);
  expect(await db.prisma.stepSignOff.count({ where: { stepId: steps[0]?.id ?? 0 } })).toBe(1);
});

test('a resend after a lost answer changes nothing and answers the same', async () => {
  const [lot] = await releasedLots();
  const { steps } = await opened(lot?.id ?? 0);
  const body = signOff(24, good[1] ?? []);
  const headers = { 'idempotency-key': `key-${lot?.id}-12345678` };
  const first = await ok<Traveler>(post(operator, `/steps/${steps[0]?.id}/sign-off`, body, headers), 201);
  const again = await ok<Traveler>(post(operator, `/steps/${steps[0]?.id}/sign-off`, body, headers), 201);
  expect(again).toEqual(first);
  const other = await post(
    operator,
    `/steps/${steps[0]?.id}/sign-off`,
    { ...body, note: 'other words' },
    headers,
  );
  expect(other.json()).toMatchObject({ status: 422, code: 'key-reused' });
});

test('a reading outside its limits needs a reason, and holds the lot until quality lets it go', async () => {
  const [lot] = await releasedLots();
  const lotId = lot?.id ?? 0;
  const { steps } = await opened(lotId);
  const hot = [reading('temperatureC', 71)];
  expect((await post(operator, `/steps/${steps[0]?.id}/sign-off`, signOff(24, hot))).json()).toMatchObject({
    status: 422,
    issues: [{ path: 'reason' }],
  });
  const held = await ok<Traveler>(
    post(operator, `/steps/${steps[0]?.id}/sign-off`, signOff(24, hot, { reason: 'thermostat stuck' })),
    201,
  );
  expect(held.lot.held).toBe(true);
  expect((await post(operator, `/steps/${steps[1]?.id}/sign-off`, signOff(24, []))).json()).toMatchObject({
    code: 'on-hold',
  });
  expect((await post(operator, `/lots/${lotId}/hold/release`, { reason: 'fine' })).statusCode).toBe(403);
  await ok(post(quality, `/lots/${lotId}/hold/release`, { reason: 'colour unaffected, coupon compared' }));
  await ok(post(operator, `/steps/${steps[1]?.id}/sign-off`, signOff(24, [])), 201);
});

test('counts reconcile from step to step; rework goes round on a linked traveler', async () => {
  const [lot] = await releasedLots();
  const lotId = lot?.id ?? 0;
  const { steps } = await opened(lotId);
  await ok(
    post(
      operator,
      `/steps/${steps[0]?.id}/sign-off`,
      signOff(24, good[1] ?? [], { countOut: 23, rejectCount: 1, countReason: 'fell off its hook' }),
    ),
    201,
  );
  expect((await post(operator, `/steps/${steps[1]?.id}/sign-off`, signOff(24, []))).json()).toMatchObject({
    issues: [{ path: 'countIn' }],
  });
  for (const step of steps.slice(1))
    await ok(post(operator, `/steps/${step.id}/sign-off`, signOff(23, good[step.position] ?? [])), 201);
  const wrong = await post(quality, `/lots/${lotId}/final-check`, {
    acceptedCount: 24,
    rejectedCount: 0,
    reworkCount: 0,
    reason: '',
    notes: '',
  });
  expect(wrong.json()).toMatchObject({ status: 422, issues: [{ path: 'acceptedCount' }] });
  const checked = await ok<Lot>(
    post(quality, `/lots/${lotId}/final-check`, {
      acceptedCount: 20,
      rejectedCount: 1,
      reworkCount: 2,
      reason: 'uneven',
      notes: '',
    }),
    201,
  );
  expect(checked.travelers.map(({ kind, status, quantity }) => [kind, status, quantity])).toEqual([
    ['first', 'complete', 24],
    ['rework', 'issued', 2],
  ]);
  await signAll(lotId, 2);
  const end = await ok<Lot>(
    post(quality, `/lots/${lotId}/final-check`, {
      acceptedCount: 2,
      rejectedCount: 0,
      reworkCount: 0,
      reason: '',
      notes: '',
    }),
    201,
  );
  expect([end.status, end.acceptedCount, end.rejectedCount]).toEqual(['passed', 22, 2]);
});

test('a PIN signs as its owner at a shared tablet, never as somebody else', async () => {
  const [lot] = await releasedLots();
  const { steps } = await opened(lot?.id ?? 0);
  const mate = await db.prisma.person.create({
    data: {
      name: `mate${lot?.id}`,
      displayName: 'Mate',
      roles: ['operator'],
      pinHash: await hashSecret('4711'),
    },
  });
  const wrong = await post(
    operator,
    `/steps/${steps[0]?.id}/sign-off`,
    signOff(24, good[1] ?? [], { signer: { personId: mate.id, pin: '0000' } }),
  );
  expect(wrong.json()).toMatchObject({ code: 'wrong-credentials' });
  const signed = await ok<Traveler>(
    post(
      operator,
      `/steps/${steps[0]?.id}/sign-off`,
      signOff(24, good[1] ?? [], { signer: { personId: mate.id, pin: '4711' } }),
    ),
    201,
  );
  expect(signed.steps[0]?.signOff?.person).toBe('Mate');
});
