import type { LoadPlan, Lot, LotSummary, LotTrace, Order, Quotation, getToday } from '@huelot/contracts';
import type { z } from 'zod';
import { expect, test } from 'vitest';
import { good, mainLine, ok, post, signOff } from '../support/main-line.ts';

const { db, shop, estimator, planner, operator, quality, ...line } = await mainLine();
const { acceptedOrder, releasedLots, opened, signAll, draft } = line;

type Today = z.output<typeof getToday.reply>;
type Line = Order['lines'][number];
const lineOf = ({ lines: [first] }: Order) => first as Line;
const readLot = (id: number) => ok<Lot>(planner({ url: `/api/lots/${id}` }));
const readOrder = (id: number) => ok<Order>(planner({ url: `/api/orders/${id}` }));
const matching = ({ version }: { version: number }) => ({ 'if-match': `"${version}"` });
const receive = (options: Line, count: number, reason = '') =>
  post(planner, `/order-lines/${options.id}/receipt`, { count, reason }, matching(options));
const todayOf = async (ask: typeof planner, key: string) =>
  (await ok<Today>(ask({ url: '/api/today' }))).sections.find((section) => section.key === key)?.items ?? [];
async function releasedOf(lineId: number, loads: number[]): Promise<LotSummary[]> {
  const { rackId, supplyId, tanks } = shop;
  const release = { rackId, supplyId, tanks, loads, dueDate: '2099-01-15', priority: 0 };
  return (await ok<{ lots: LotSummary[] }>(post(planner, `/order-lines/${lineId}/release`, release), 201))
    .lots;
}
const check = (lotId: number, [acceptedCount, rejectedCount, reworkCount]: [number, number, number]) =>
  ok<Lot>(
    post(
      quality,
      `/lots/${lotId}/final-check`,
      { acceptedCount, rejectedCount, reworkCount, reason: 'shade', notes: '' },
      { 'idempotency-key': crypto.randomUUID() },
    ),
    201,
  );
const ship = (lotId: number, quantity: number) =>
  ok<Lot>(
    post(
      planner,
      `/lots/${lotId}/shipments`,
      { quantity, carrier: '', document: '', notes: '' },
      { 'idempotency-key': crypto.randomUUID() },
    ),
    201,
  );

test('accepted pieces vanished from Today and rejected ones counted as shipped', async () => {
  const [lot] = await releasedLots();
  const id = lot?.id ?? 0;
  await signAll(id);
  await check(id, [19, 1, 4]);
  expect((await todayOf(planner, 'shipments')).map(({ title }) => title)).toContain(
    `${lot?.number}: 19 pieces to ship`,
  );
  const { order } = await readLot(id);
  await db.prisma.orderLine.update({ where: { id: order.lineId }, data: { dueDate: new Date() } });
  const due = () => todayOf(planner, 'deliveries');
  expect((await due()).find(({ page }) => page.kind === 'order' && page.id === order.id)?.detail).toBe(
    '0 of 48 shipped, 1 rejected',
  );
  await ship(id, 19);
  expect((await due()).find(({ page }) => page.kind === 'order' && page.id === order.id)?.detail).toBe(
    '19 of 48 shipped, 1 rejected',
  );
});

test('pieces rejected at a step were still counted in the lot and nowhere as rejected', async () => {
  const [lot] = await releasedLots();
  const id = lot?.id ?? 0;
  const [first] = (await opened(id)).steps;
  const scrap = { countOut: 21, rejectCount: 3, countReason: 'dropped' };
  await ok(post(operator, `/steps/${first?.id}/sign-off`, signOff(24, good[1] ?? [], scrap)), 201);
  expect(await readLot(id)).toMatchObject({ quantity: 24, rejectedCount: 3 });
  const { items } = await ok<{ items: z.output<typeof LotSummary>[] }>(
    planner({ url: `/api/lots?search=${lot?.number}` }),
  );
  expect(items).toMatchObject([{ quantity: 24, rejectedCount: 3 }]);
  const steps = await todayOf(operator, 'steps');
  expect(steps.find(({ page }) => page.kind === 'tankside' && page.id === id)?.detail).toContain('21 pieces');
  const ready = await ok<{ items: { lotId: number; quantity: number }[] }>(
    operator({ url: '/api/tankside' }),
  );
  expect(ready.items.find(({ lotId }) => lotId === id)?.quantity).toBe(21);
});

test('the price of a shipped line was changed to 1.00', async () => {
  const [lot] = await releasedLots();
  const id = lot?.id ?? 0;
  await signAll(id);
  await check(id, [24, 0, 0]);
  await ship(id, 5);
  const before = await readOrder((await readLot(id)).order.id);
  const ordered = lineOf(before);
  const terms = {
    ...{ quantity: ordered.quantity, totalPrice: '1.00', dueDate: ordered.dueDate, notes: ordered.notes },
    ...{ recipeRevisionId: ordered.recipe.revisionId, reason: 'a friend' },
  };
  const reply = await planner({
    method: 'PUT',
    url: `/api/order-lines/${ordered.id}`,
    payload: terms,
    headers: matching(ordered),
  });
  expect(reply.json()).toMatchObject({ status: 409, code: 'immutable' });
  expect(await readOrder(before.id)).toEqual(before);
});

test('release proposed more than is here, and a second delivery overwrote the first', async () => {
  let order = await acceptedOrder();
  expect(lineOf(order).progress.toRelease).toBe(0);
  order = await ok<Order>(receive(lineOf(order), 45, 'three are late'));
  expect(lineOf(order)).toMatchObject({ receivedCount: 45, progress: { toRelease: 45 } });
  const plan = await ok<LoadPlan>(planner({ url: `/api/order-lines/${lineOf(order).id}/load-plan` }));
  expect(plan.loads.reduce((sum, pieces) => sum + pieces, 0)).toBe(45);
  expect(plan.warnings).toEqual(['45 of 48 pieces came in; 3 are still to come.']);
  expect((await receive(lineOf(order), 2)).json()).toMatchObject({ issues: [{ path: 'reason' }] });
  order = await ok<Order>(receive(lineOf(order), 3));
  expect(lineOf(order)).toMatchObject({ receivedCount: 48, progress: { toRelease: 48 } });
  const corrected = await ok<Order>(
    planner({
      method: 'PUT',
      url: `/api/order-lines/${lineOf(order).id}/receipt`,
      payload: { count: 47, reason: 'counted again' },
      headers: matching(lineOf(order)),
    }),
  );
  expect(lineOf(corrected).receivedCount).toBe(47);
  expect(lineOf(corrected).receipts).toMatchObject([
    { kind: 'delivery', count: 45, total: 45, reason: 'three are late' },
    { kind: 'delivery', count: 3, total: 48, reason: '' },
    { kind: 'correction', count: -1, total: 47, reason: 'counted again' },
  ]);
  await expect(db.pool.query('update order_receipt set count = 1')).rejects.toMatchObject({ code: 'HU001' });

  const [released] = await releasedOf(lineOf(corrected).id, [24, 23]);
  const { events } = await ok<LotTrace>(quality({ url: `/api/lots/${released?.id ?? 0}/trace` }));
  expect(events.filter(({ kind }) => kind === 'received')).toMatchObject([
    { title: 'Received 45 pieces', detail: 'three are late' },
    { title: 'Received 3 pieces more, 48 in all' },
    { title: 'Count corrected: 47 pieces came in all', detail: 'counted again' },
  ]);
});

test('a planner was refused the sheet of an order without a quotation', async () => {
  const reply = await planner({ url: `/api/customers/${shop.customerId}/order-sheet` });
  expect(reply.statusCode, reply.body).toBe(200);
  expect(reply.body).not.toMatch(/labourPerHour|marginShare|rateCard/);
  expect((await operator({ url: `/api/customers/${shop.customerId}/order-sheet` })).statusCode).toBe(403);
});

test('a quotation that expired was about to expire', async () => {
  const { id } = await ok<Quotation>(
    post(estimator, '/quotations', { customerId: shop.customerId, ...draft([48]) }),
    201,
  );
  await db.prisma.quotationRevision.updateMany({
    where: { quotationId: id },
    data: { status: 'sent', sentAt: new Date(), validUntil: new Date(Date.now() - 14 * 86_400_000) },
  });
  const { sections } = await ok<Today>(estimator({ url: '/api/today' }));
  const holding = sections.filter(({ items }) =>
    items.some(({ page }) => page.kind === 'quotation' && page.id === id),
  );
  expect(holding.map(({ key }) => key)).toEqual(['expiredQuotations']);
});
