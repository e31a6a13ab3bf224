import { expect, test } from 'vitest';
import { testApp } from '../../../../tests/support/app.ts';

const { as } = await testApp();

test('everybody who works here can read whose work is inside, and under which licences', async () => {
  const ask = await as('operator');
  const answer = await ask({ url: '/api/third-party-notices.txt' });
  expect(answer.statusCode).toBe(200);
  expect(answer.headers['content-type']).toBe('text/plain; charset=utf-8');
  expect(answer.body).toMatch(/^Third-party notices of Huelot\n/);
  expect(answer.body).toContain('GNU LESSER GENERAL PUBLIC LICENSE');
  expect(answer.body).toContain('SIL OPEN FONT LICENSE');
});
