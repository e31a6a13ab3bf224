import type { Lot, LotTrace, Order, Quotation, Traveler } from '@huelot/contracts';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp, type Ask } from '../support/app.ts';
import { equipShop, type EquippedShop } from '../support/shop.ts';

const { db, as } = await testApp();
let shop: EquippedShop;
let estimator: Ask, planner: Ask, operator: Ask, quality: Ask;

beforeAll(async () => {
  shop = await equipShop(db);
  [estimator, planner, operator, quality] = await Promise.all([
    as('estimator'),
    as('planner'),
    as('operator'),
    as('quality'),
  ]);
});

const options = () => ({
  maskingFeatures: 0,
  masking: { timeS: 0, materialCost: 0 },
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  inspectionLevel: '',
  certificate: true,
  packing: '',
  packingCost: 7.5,
  expedite: false,
  validatedPieces: null,
  oneOffs: [],
});
const draft = (quantities: number[]) => ({
  contactName: '',
  enquiryReference: '',
  validUntil: '2099-01-01',
  leadTimeDays: 10,
  taxRatePercent: 20,
  terms: '',
  customerNotes: '',
  internalNotes: 'ours',
  rateCardId: shop.rateCardId,
  lines: [
    {
      partId: shop.partId,
      recipeRevisionId: shop.recipeRevisionId,
      rackId: shop.rackId,
      supplyId: shop.supplyId,
      quantities,
      options: options(),
    },
  ],
});
async function ok<T>(answer: ReturnType<Ask>, status = 200): Promise<T> {
  const reply = await answer;
  expect(reply.statusCode, reply.body).toBe(status);
  return reply.json<T>();
}
const post = (...[ask, url, payload, headers = {}]: [Ask, string, object, Record<string, string>?]) =>
  ask({ method: 'POST', url: `/api${url}`, payload, headers });

async function sentQuotation(quantities = [48, 480]): Promise<Quotation> {
  const made = await ok<Quotation>(
    post(estimator, '/quotations', { customerId: shop.customerId, ...draft(quantities) }),
    201,
  );
  return ok<Quotation>(
    post(estimator, `/quotations/${made.id}/send`, {}, { 'if-match': `"${made.version}"` }),
  );
}
async function acceptedOrder(at = 0): Promise<Order> {
  const quotation = await sentQuotation();
  const [line] = quotation.shown.lines;
  const picks = [{ lineId: line?.id, breakId: line?.breaks[at]?.id }];
  return ok<Order>(
    post(planner, `/quotations/${quotation.id}/accept`, {
      customerOrderNumber: 'PO 7',
      dueDate: '2099-01-15',
      lines: picks,
    }),
    201,
  );
}
async function releasedLots(): Promise<Lot[]> {
  let order = await acceptedOrder();
  const line = () => order.lines[0] as Order['lines'][number];
  order = await ok<Order>(
    post(
      planner,
      `/order-lines/${line().id}/receipt`,
      { count: 48, reason: '' },
      { 'if-match': `"${line().version}"` },
    ),
  );
  const release = {
    rackId: shop.rackId,
    supplyId: shop.supplyId,
    tanks: shop.tanks,
    loads: [24, 24],
    dueDate: '2099-01-15',
    priority: 0,
  };
  return (await ok<{ lots: Lot[] }>(post(planner, `/order-lines/${line().id}/release`, release), 201)).lots;
}
const opened = (lotId: number) => ok<Traveler>(operator({ url: `/api/tankside/lots/${lotId}` }));
const signOff = (count: number, readings: object[], more: object = {}) => ({
  doneAt: new Date().toISOString(),
  countIn: count,
  countOut: count,
  rejectCount: 0,
  readings,
  reason: '',
  note: '',
  tankId: null,
  supplyId: null,
  signer: null,
  ...more,
});
const reading = (quantity: string, value: number) => ({ quantity, value, instrument: '' });
const good: Record<number, object[]> = {
  1: [reading('temperatureC', 60)],
  2: [],
  3: [reading('voltageV', 30), reading('currentA', 20)],
  4: [],
};
async function signAll(lotId: number, count = 24): Promise<Traveler> {
  let traveler = await opened(lotId);
  for (const step of traveler.steps) {
    traveler = await ok<Traveler>(
      post(operator, `/steps/${step.id}/sign-off`, signOff(count, good[step.position] ?? [])),
      201,
    );
  }
  return traveler;
}

describe('quotations', () => {
  test('every price opens to its last figure: lines and steps add up to the total', async () => {
    const { shown } = await sentQuotation();
    const [line] = shown.lines;
    expect(line?.breaks.map(({ quantity, loads }) => [quantity, loads])).toEqual([
      [48, 2],
      [480, 11],
    ]);
    expect(line?.bindingLimit).toBe('current');
    for (const price of line?.breaks ?? []) {
      const { buildUp } = price;
      const sum = [...(buildUp?.lines ?? []), ...(buildUp?.steps ?? [])].reduce(
        (total, { amount }) => total + amount,
        0,
      );
      expect(sum.toFixed(2)).toBe(price.totalPrice);
    }
  });

  test('a sent revision is frozen by the service and by the database', async () => {
    const quotation = await sentQuotation();
    const change = {
      method: 'PUT' as const,
      url: `/api/quotations/${quotation.id}`,
      payload: draft([48]),
      headers: { 'if-match': `"${quotation.version}"` },
    };
    expect((await estimator(change)).json()).toMatchObject({ status: 409, code: 'frozen' });
    await expect(
      db.pool.query(`update quotation_revision set terms = 'x' where id = ${quotation.shown.id}`),
    ).rejects.toMatchObject({ code: 'HU001' });
    await expect(
      db.pool.query(`delete from quotation_break where "lineId" = ${quotation.shown.lines[0]?.id}`),
    ).rejects.toMatchObject({ code: 'HU001' });
  });

  test('a revision in work leaves the sent one with the customer until it is sent itself', async () => {
    const sent = await sentQuotation();
    const revised = await ok<Quotation>(post(estimator, `/quotations/${sent.id}/revise`, {}), 201);
    expect(revised.revisions.map(({ status }) => status)).toEqual(['draft', 'sent']);
    const again = await ok<Quotation>(
      post(estimator, `/quotations/${sent.id}/send`, {}, { 'if-match': `"${revised.version}"` }),
    );
    expect(again.revisions.map(({ status }) => status)).toEqual(['sent', 'superseded']);
  });

  test('cost and margin are absent for those who may not see rates', async () => {
    const quotation = await sentQuotation();
    const seen = await ok<Quotation>(planner({ url: `/api/quotations/${quotation.id}` }));
    expect(JSON.stringify(seen)).not.toMatch(/buildUp|marginShare|labour|"ours"/);
    expect(seen.shown.lines[0]?.breaks[0]?.totalPrice).toBe(quotation.shown.lines[0]?.breaks[0]?.totalPrice);
  });

  test('a quotation is accepted once, however many try', async () => {
    const quotation = await sentQuotation();
    const [line] = quotation.shown.lines;
    const body = {
      customerOrderNumber: 'PO 8',
      dueDate: '2099-01-15',
      lines: [{ lineId: line?.id, breakId: line?.breaks[0]?.id }],
    };
    const tries = await Promise.all(
      [1, 2, 3].map(() => post(planner, `/quotations/${quotation.id}/accept`, body)),
    );
    expect(tries.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409]);
    expect(await db.prisma.order.count({ where: { quotationRevisionId: quotation.shown.id } })).toBe(1);
  });

  test.each([
    [
      'no quantity',
      (body: ReturnType<typeof draft>) => body.lines.forEach((line) => (line.quantities = [])),
      'lines.0.quantities',
    ],
    [
      'another shop’s part',
      (body: ReturnType<typeof draft>) => body.lines.forEach((line) => (line.partId = 999_999)),
      'lines.0.partId',
    ],
    [
      'a repeated quantity',
      (body: ReturnType<typeof draft>) => body.lines.forEach((line) => (line.quantities = [48, 48])),
      'lines.0.quantities',
    ],
    [
      'an unknown rack',
      (body: ReturnType<typeof draft>) => body.lines.forEach((line) => (line.rackId = 999_999)),
      'lines.0.rackId',
    ],
  ])('%s is refused by the name of its field', async (_what, spoil, path) => {
    const body = { customerId: shop.customerId, ...draft([48]) };
    spoil(body);
    const before = await db.prisma.quotation.count();
    const reply = await post(estimator, '/quotations', body);
    expect(reply.statusCode, reply.body).toBe(422);
    expect(reply.json<{ issues: { path: string }[] }>().issues[0]?.path).toBe(path);
    expect(await db.prisma.quotation.count()).toBe(before);
  });
});

describe('release', () => {
  test('splits a line into lots within the limit that binds, and never twice', async () => {
    const order = await acceptedOrder();
    const line = order.lines[0] as Order['lines'][number];
    const release = {
      rackId: shop.rackId,
      supplyId: shop.supplyId,
      tanks: shop.tanks,
      loads: [24, 24],
      dueDate: '2099-01-15',
      priority: 0,
    };
    expect((await post(planner, `/order-lines/${line.id}/release`, release)).json()).toMatchObject({
      code: 'conflict',
      detail: expect.stringContaining('not booked as received') as string,
    });
    await ok(
      post(
        planner,
        `/order-lines/${line.id}/receipt`,
        { count: 48, reason: '' },
        { 'if-match': `"${line.version}"` },
      ),
    );
    const plan = await ok<{ binding: string[]; piecesPerLoad: number; loads: number[] }>(
      planner({ url: `/api/order-lines/${line.id}/load-plan` }),
    );
    expect(plan).toMatchObject({ binding: ['amps'], piecesPerLoad: 47, loads: [24, 24] });
    const tooMany = await post(planner, `/order-lines/${line.id}/release`, { ...release, loads: [48] });
    expect(tooMany.json()).toMatchObject({ status: 422, issues: [{ path: 'loads.0' }] });
    const both = await Promise.all(
      [1, 2].map(() => post(planner, `/order-lines/${line.id}/release`, release)),
    );
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    expect(await db.prisma.lot.count({ where: { orderLineId: line.id } })).toBe(2);
  });
});

describe('tankside', () => {
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
    expect(other.json()).toMatchObject({ status: 409, code: 'conflict' });
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
    expect((await post(operator, `/lots/${lotId}/release-hold`, { reason: 'fine' })).statusCode).toBe(403);
    await ok(post(quality, `/lots/${lotId}/release-hold`, { reason: 'colour unaffected, coupon compared' }));
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
        signOff(24, good[1] ?? [], { countOut: 23, rejectCount: 1 }),
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
    expect(
      (await post(operator, `/steps/${old.steps[1]?.id}/sign-off`, signOff(24, []))).json(),
    ).toMatchObject({ code: 'not-current' });
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

  test('a PIN signs as its owner at a shared tablet, never as somebody else', async () => {
    const [lot] = await releasedLots();
    const { steps } = await opened(lot?.id ?? 0);
    const { hashSecret } = await import('../../apps/api/src/domains/people/secrets.ts');
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

  test('the audit trail only grows', async () => {
    await expect(db.pool.query('delete from audit_entry')).rejects.toMatchObject({ code: 'HU001' });
    await expect(db.pool.query(`update audit_entry set "personName" = 'x'`)).rejects.toMatchObject({
      code: 'HU001',
    });
    await expect(db.pool.query('truncate audit_entry')).rejects.toMatchObject({ code: 'HU001' });
  });
});

describe('finding', () => {
  test('the search box finds a lot by its number, for those who may read it', async () => {
    const [lot] = await releasedLots();
    const { items } = await ok<{ items: { href: string }[] }>(
      operator({ url: `/api/search?q=${lot?.number}` }),
    );
    expect(items[0]?.href).toBe(`/lots/${lot?.id}`);
    const { items: orders } = await ok<{ items: unknown[] }>(operator({ url: '/api/search?q=O-0' }));
    expect(orders).toEqual([]);
  });

  test('Today shows each role what it can act on', async () => {
    await releasedLots();
    const mine = await ok<{ sections: { key: string; total: number }[] }>(operator({ url: '/api/today' }));
    expect(mine.sections.map(({ key }) => key)).toEqual(['steps']);
    expect(mine.sections[0]?.total).toBeGreaterThan(0);
    const planned = await ok<{ sections: { key: string }[] }>(planner({ url: '/api/today' }));
    expect(planned.sections.map(({ key }) => key)).toEqual(['holds', 'releases', 'shipments', 'deliveries']);
  });

  test('lists page by cursor without losing or repeating a row', async () => {
    const seen: number[] = [];
    let after = '';
    do {
      const { items, next } = await ok<{ items: { id: number }[]; next: string | null }>(
        planner({ url: `/api/lots?limit=3&sort=due${after}` }),
      );
      seen.push(...items.map(({ id }) => id));
      after = next === null ? '' : `&after=${next}`;
    } while (after !== '');
    expect(new Set(seen).size).toBe(seen.length);
    expect(seen.length).toBe(await db.prisma.lot.count());
  });

  test('the CSV export streams every hit and defuses formulas', async () => {
    const reply = await quality({ url: '/api/trace.csv?stepKind=colour' });
    expect(reply.headers['content-type']).toContain('text/csv');
    const rows = reply.body.trim().split('\r\n');
    expect(rows.length - 1).toBe(await db.prisma.stepSignOff.count({ where: { stepKind: 'colour' } }));
  });
});
