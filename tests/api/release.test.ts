import type { LoadPlan, Order } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';

const { db, shop, estimator, planner, draft, acceptedOrder } = await mainLine();

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
    detail: expect.stringContaining('receipt of the pieces is not recorded') as string,
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
  const both = await Promise.all([1, 2].map(() => post(planner, `/order-lines/${line.id}/release`, release)));
  expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
  expect(await db.prisma.lot.count({ where: { orderLineId: line.id } })).toBe(2);
});

const rackLike = async (code: string, changes: object) => {
  const rack = await db.prisma.rack.findUniqueOrThrow({
    where: { id: shop.rackId },
    omit: { id: true, createdAt: true },
  });
  return db.prisma.rack.create({ data: { ...rack, code, ...changes } });
};

test('the first rack of the list was taken, not the one with the fewest loads; a rack no tank takes was offered', async () => {
  const order = await acceptedOrder();
  const line = order.lines[0] as Order['lines'][number];
  const few = await rackLike('AA-1', { hooks: 2 });
  const wide = await rackLike('AA-2', { windowWidthMm: 1200 });
  await db.prisma.orderLine.update({ where: { id: line.id }, data: { rackId: null } });
  const plan = await ok<LoadPlan>(planner({ url: `/api/order-lines/${line.id}/load-plan` }));
  expect(plan.rackId).not.toBe(few.id);
  expect(plan.racks.find(({ id }) => id === few.id)?.loads).toBeGreaterThan(plan.racks[0]?.loads ?? Infinity);
  expect(plan.racks.map(({ id }) => id)).not.toContain(wide.id);
  const body = { customerId: shop.customerId, ...draft([48]) };
  const reply = await post(estimator, '/quotations', {
    ...body,
    lines: body.lines.map((one) => ({ ...one, rackId: wide.id })),
  });
  expect(reply.json()).toMatchObject({ status: 422, issues: [{ path: 'lines.0.rackId' }] });
  expect(reply.body).toContain('1000 mm long inside');
});

test('a supply that cannot give the voltage was offered at release', async () => {
  const order = await acceptedOrder();
  const supply = await db.prisma.powerSupply.findUniqueOrThrow({
    where: { id: shop.supplyId },
    omit: { id: true, createdAt: true },
  });
  const weak = await db.prisma.powerSupply.create({
    data: { ...supply, code: 'AA-3', maxVoltageV: 10, maxCurrentA: 900 },
  });
  for (const { tankId } of await db.prisma.powerSupplyTank.findMany({ where: { supplyId: shop.supplyId } }))
    await db.prisma.powerSupplyTank.create({ data: { supplyId: weak.id, tankId } });
  const plan = await ok<LoadPlan>(planner({ url: `/api/order-lines/${order.lines[0]?.id}/load-plan` }));
  expect(plan.supplies.map(({ id }) => id)).toEqual([shop.supplyId]);
});
