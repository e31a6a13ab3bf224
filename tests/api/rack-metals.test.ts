import type { Order, LoadPlan } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';

const { db, shop, estimator, planner, draft, acceptedOrder } = await mainLine();

const rackOf = (code: string, baseMetal: string) =>
  db.prisma.rack.create({
    data: {
      ...{ code, name: code, baseMetal, hooks: 60 },
      ...{ windowWidthMm: 900, windowHeightMm: 600, gapMm: 20, maxLoadKg: 8 },
    },
  });
const [steel, copper] = [await rackOf('A-STEEL', 'steel'), await rackOf('A-COPPER', 'copper')];
const order = (rackId: number, recipeRevisionId = shop.recipeRevisionId, partId = shop.partId) => ({
  customerId: shop.customerId,
  customerOrderNumber: '',
  notes: '',
  lines: [
    {
      ...{ partId, recipeRevisionId, rackId, supplyId: shop.supplyId },
      ...{ quantity: 10, totalPrice: '100.00', dueDate: '2099-01-15' },
      ...{ certificate: false, inspectionLevel: '', notes: '' },
    },
  ],
});

test.each([
  ['steel', steel],
  ['copper', copper],
])('titanium was quoted on a %s rack, which takes the current and dissolves', async (metal, rack) => {
  const body = draft([48]);
  body.lines.forEach((line) => (line.rackId = rack.id));
  const reply = await post(estimator, '/quotations', { customerId: shop.customerId, ...body });
  expect(reply.json()).toMatchObject({
    code: 'incompatible',
    detail: expect.stringMatching(
      new RegExp(`${rack.code} is ${metal}.*step 3.*dissolves.*common practice, no source`),
    ) as string,
    issues: [{ path: 'lines.0.rackId' }],
  });
});

test('titanium was ordered without a quotation on a steel rack', async () => {
  const before = await db.prisma.order.count();
  expect((await post(estimator, '/orders', order(steel.id))).json()).toMatchObject({
    code: 'incompatible',
    issues: [{ path: 'lines.0.rackId' }],
  });
  expect(await db.prisma.order.count()).toBe(before);
  await ok<Order>(post(estimator, '/orders', order(shop.rackId)), 201);
});

test('an aluminium rack was ordered into hot caustic', async () => {
  const rack = await rackOf('A-ALUMINIUM', 'aluminium');
  const material = await db.prisma.material.create({
    data: {
      ...{ name: 'Spring steel', baseMetal: 'steel', densityKgPerM3: 7850, heatCapacityJPerKgK: 480 },
      ...{ source: 'test', evidence: 'M' },
    },
  });
  const like = await db.prisma.part.findUniqueOrThrow({ where: { id: shop.partId }, omit: { id: true } });
  const part = await db.prisma.part.create({
    data: { ...like, number: 'STEEL-1', materialId: material.id, geometry: like.geometry as object },
  });
  const revision = await db.prisma.recipeRevision.create({
    data: {
      recipe: {
        create: { number: 'R-BLACK', name: 'Black', family: 'caustic-colour', baseMetals: ['steel'] },
      },
      ...{ revision: 1, authorId: shop.authorId },
      steps: {
        create: [
          {
            ...{ position: 1, kind: 'colour', title: 'Colour', contents: 'hot-caustic', durationS: 600 },
            ...{ settings: [], cautions: ['The safety data sheet decides.'], record: [] },
          },
        ],
      },
    },
  });
  const approver = await db.prisma.person.findFirstOrThrow({ where: { id: { not: shop.authorId } } });
  await db.prisma.recipeRevision.update({
    where: { id: revision.id },
    data: { status: 'approved', approvedById: approver.id, approvedAt: new Date() },
  });
  expect((await post(estimator, '/orders', order(rack.id, revision.id, part.id))).json()).toMatchObject({
    code: 'incompatible',
    detail: expect.stringContaining('caustic eats it') as string,
    issues: [{ path: 'lines.0.rackId' }],
  });
});

test('titanium was released on a steel rack that an older order names', async () => {
  const { lines } = await acceptedOrder();
  const [line] = lines;
  const lineId = line?.id ?? 0;
  await db.prisma.orderLine.update({
    where: { id: lineId },
    data: { rackId: steel.id, receivedCount: 48, receivedAt: new Date() },
  });
  const plan = await ok<LoadPlan>(planner({ url: `/api/order-lines/${lineId}/load-plan` }));
  expect(plan.racks.map(({ id }) => id)).not.toContain(steel.id);
  expect(plan.warnings.join()).toMatch(/A-STEEL is steel.*dissolves/);
  const release = {
    ...{ rackId: steel.id, supplyId: shop.supplyId, tanks: shop.tanks },
    ...{ loads: [24], dueDate: '2099-01-15', priority: 0 },
  };
  expect((await post(planner, `/order-lines/${lineId}/release`, release)).json()).toMatchObject({
    code: 'incompatible',
    issues: [{ path: 'rackId' }],
  });
  expect(await db.prisma.lot.count({ where: { orderLineId: lineId } })).toBe(0);
});
