import { beforeAll, expect, test } from 'vitest';
import { testApp, type TestApp } from '../../../../tests/support/app.ts';
import { ANSWER_DAYS, dropOldAnswers } from './housekeeping.ts';

let huelot: TestApp;
beforeAll(async () => {
  huelot = await testApp();
});

test('answers kept for a resend do not stay for ever, and go a bounded number at a time', async () => {
  const { prisma } = huelot.db;
  const { personId } = await huelot.as('operator');
  const daysAgo = (days: number) => new Date(Date.now() - days * 24 * 3600 * 1000);
  const ages = [ANSWER_DAYS + 3, ANSWER_DAYS + 2, ANSWER_DAYS + 1, ANSWER_DAYS - 1, 0];
  await prisma.answered.createMany({
    data: ages.map((days) => ({
      ...{ personId, key: `${days} days`, requestHash: Buffer.from('x'), status: 200, reply: '{}' },
      at: daysAgo(days),
    })),
  });
  expect(await dropOldAnswers(huelot.db, 2)).toBe(2);
  expect(await dropOldAnswers(huelot.db, 2)).toBe(1);
  expect(await dropOldAnswers(huelot.db, 2)).toBe(0);
  const left = await prisma.answered.findMany({ orderBy: { at: 'desc' } });
  expect(left.map(({ key }) => key)).toEqual(['0 days', `${ANSWER_DAYS - 1} days`]);
});
