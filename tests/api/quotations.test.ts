import type { AuditEntry, Quotation } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';

const { db, shop, estimator, planner, draft, sentQuotation } = await mainLine();

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
  expect((await estimator(change)).json()).toMatchObject({ status: 409, code: 'immutable' });
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

test('the history of a draft said that it changed, not from what to what', async () => {
  const made = await ok<Quotation>(
    post(estimator, '/quotations', { customerId: shop.customerId, ...draft([48]) }),
    201,
  );
  const [line] = draft([48, 96]).lines;
  const payload = {
    ...draft([48]),
    leadTimeDays: 12,
    internalNotes: 'rush',
    lines: [
      {
        ...line,
        options: { ...line?.options, labour: { ...line?.options.labour, rackS: 30 }, packing: 'foam' },
      },
    ],
  };
  const changed = await ok<Quotation>(
    estimator({
      method: 'PUT',
      url: `/api/quotations/${made.id}`,
      payload,
      headers: { 'if-match': `"${made.version}"` },
    }),
  );
  const historyFor = async (ask: typeof estimator) =>
    (await ok<{ items: AuditEntry[] }>(ask({ url: `/api/history/quotation/${made.id}` }))).items[0]?.changes;
  const history = await historyFor(estimator);
  expect(history).toContainEqual({ field: 'leadTimeDays', old: 10, new: 12 });
  expect(history).toContainEqual({ field: 'internalNotes', old: 'ours', new: 'rush' });
  const [was, now] = [made, changed].map(({ shown }) =>
    Object.fromEntries(shown.lines[0]?.breaks.map((price) => [price.quantity, price.totalPrice]) ?? []),
  );
  expect(was?.['48']).not.toBe(now?.['48']);
  expect(history?.find(({ field }) => field === 'lines')).toMatchObject({
    old: [{ packing: '', priceOf: was }],
    new: [{ packing: 'foam', priceOf: now }],
  });
  expect(history?.find(({ field }) => field === 'internalChoices')).toMatchObject({
    old: [{ labour: { rackS: 18 } }],
    new: [{ labour: { rackS: 30 } }],
  });
  // The planner sees no rates, and no choices that rates show in.
  expect((await historyFor(planner))?.map(({ field }) => field)).toEqual(['leadTimeDays', 'lines']);
});

test('a quotation that had expired was booked as expired, again and again', async () => {
  const sent = await ok<Quotation>(
    post(estimator, '/quotations', { customerId: shop.customerId, ...draft([48]) }),
    201,
  );
  await db.prisma.quotationRevision.updateMany({
    where: { quotationId: sent.id },
    data: { status: 'sent', sentAt: new Date(), validUntil: new Date(Date.now() - 14 * 86_400_000) },
  });
  const close = ({ version }: Quotation, outcome: string) =>
    post(
      estimator,
      `/quotations/${sent.id}/close`,
      { outcome, reason: 'no answer' },
      { 'if-match': `"${version}"` },
    );
  const closed = await ok<Quotation>(close(sent, 'lapsed'));
  expect(closed.shown).toMatchObject({ status: 'lapsed', decisionReason: 'no answer' });
  for (const outcome of ['lapsed', 'declined'])
    expect((await close(closed, outcome)).json()).toMatchObject({
      status: 409,
      detail: expect.stringContaining('is closed already') as string,
    });
});
