import { Writable } from 'node:stream';
import { expect, test } from 'vitest';
import { testApp } from '../../../../tests/support/app.ts';
import { inTransaction, sql } from '../db/client.ts';

const lines: string[] = [];
const stream = new Writable({
  write(chunk, _encoding, done) {
    lines.push(String(chunk));
    done();
  },
});

test('a fault inside told the caller how Huelot is built, or left half of its work', async () => {
  const { app, db, as } = await testApp({
    logger: { level: 'error', stream },
    extra: (bare) =>
      bare.post('/api/fault', { config: { access: 'signed-in' } }, () =>
        inTransaction(db, async ({ prisma, execute }) => {
          await prisma.customer.create({ data: { number: 'C-HALF', name: 'half', currency: 'EUR' } });
          await execute(sql`select nothing_of_that_name from customer`);
        }),
      ),
  });
  const owner = await as('owner');
  const answer = await owner({ method: 'POST', url: '/api/fault' });
  expect(answer.statusCode).toBe(500);
  const problem = answer.json<{ code: string; reference: string }>();
  expect(problem).toMatchObject({
    code: 'internal',
    reference: expect.stringMatching(/^[0-9a-f]{12}$/) as string,
  });
  expect(answer.body).not.toMatch(/nothing_of_that_name|select|prisma|\.ts|\bat \//i);
  expect(lines.join('')).toContain(problem.reference);
  expect(lines.join('')).toContain('nothing_of_that_name');
  expect(await db.prisma.customer.count()).toBe(0);
  expect((await app.inject({ url: '/api/health/live' })).statusCode).toBe(200);
});
