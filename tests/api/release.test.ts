import type { Order } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';

const { db, shop, planner, acceptedOrder } = await mainLine();

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
  const both = await Promise.all([1, 2].map(() => post(planner, `/order-lines/${line.id}/release`, release)));
  expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
  expect(await db.prisma.lot.count({ where: { orderLineId: line.id } })).toBe(2);
});
