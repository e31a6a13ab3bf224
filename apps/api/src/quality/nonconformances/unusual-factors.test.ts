import type { Nonconformance, UnusualFactors } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import { ok } from '../../../../../tests/support/main-line.ts';
import { nonconformingLine } from '../../../../../tests/support/nonconforming.ts';

const { db, as, quality, operator, checked, open, checkOf } = await nonconformingLine();
const found = (id: number) =>
  ok<UnusualFactors>(quality({ url: `/api/nonconformances/${id}/unusual-factors` }));

let bad: Nonconformance;
beforeAll(async () => {
  const first = await checked();
  bad = await ok<Nonconformance>(open(first.id, checkOf(first)), 201);
  const few = await found(bad.id);
  expect([few.good, few.factors]).toEqual([0, []]);
  for (let count = 0; count < 6; count += 1) await checked({ rejected: 0 });
  // What the figures of the lots were: six that spread a little, and a bad one far out.
  const steps = await db.prisma.stepSignOff.findMany({
    where: { readings: { some: { quantity: 'voltageV' } } },
    orderBy: { lotId: 'asc' },
  });
  const volts = [31.9, 29.8, 29.9, 30, 30.1, 30.2, 30.3];
  for (const [index, { id }] of steps.entries())
    await db.prisma.stepCorrection.create({
      data: {
        ...{ signOffId: id, quantity: 'voltageV', oldValue: 30, newValue: volts[index] ?? 30 },
        ...{ reason: 'read again', correctedById: operator.personId },
      },
    });
  // The bad one hung on a rack of its own.
  const rack = await db.prisma.rack.findFirstOrThrow({ omit: { id: true } });
  const own = await db.prisma.rack.create({ data: { ...rack, code: 'RK-BENT' } });
  await db.prisma.lot.update({ where: { id: first.id }, data: { rackId: own.id } });
});

it('ranks what was far from the history of the recipe before what was as ever', async () => {
  const { factors, good, compared, bad: lots } = await found(bad.id);
  expect([good, lots.map(({ id }) => id)]).toEqual([6, [bad.record.lot.id]]);
  expect(compared).toBe(factors.length);
  const [first, second, ...others] = factors;
  expect(first).toMatchObject({ name: expect.stringMatching(/voltage/) as string, named: null });
  // By hand: (31.9 - 30.05) 0.6745 / 0.15.
  expect(first?.score).toBeCloseTo(8.319, 2);
  expect(first?.figures?.good).toHaveLength(6);
  // One lot of seven, and it is the bad one: chance gives that once in seven.
  expect(second).toMatchObject({
    name: 'rack',
    named: { value: 'RK-BENT', bad: 1, badOf: 1, good: 0, goodOf: 6 },
  });
  expect(second?.named?.probability).toBeCloseTo(1 / 7, 9);
  for (const { score } of others) expect(Math.abs(score ?? Infinity)).toBeLessThan(1.5);
  const lab = await as('lab');
  expect((await lab({ url: `/api/nonconformances/${bad.id}/unusual-factors` })).statusCode).toBe(200);
  expect((await operator({ url: `/api/nonconformances/${bad.id}/unusual-factors` })).statusCode).toBe(403);
  expect((await quality({ url: '/api/nonconformances/999999/unusual-factors' })).statusCode).toBe(404);
});
