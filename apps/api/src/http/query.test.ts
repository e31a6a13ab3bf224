import { expect, test } from 'vitest';
import { testApp } from '../../../../tests/support/app.ts';
import { addressOf, endpoints } from '../../../../tests/support/endpoints.ts';

const { as } = await testApp();
const owner = await as('owner');

test.each(
  endpoints.filter(([, { path }]) => !path.startsWith('/sign-out') && !path.startsWith('/me/sign-ins')),
)('%s does not ignore a parameter it does not know', async (_name, endpoint) => {
  const answer = await owner({
    method: endpoint.method,
    url: `${addressOf(endpoint)}?limt=1`,
    ...(endpoint.method === 'GET' ? {} : { payload: {} }),
  });
  expect([400, 422], answer.body).toContain(answer.statusCode);
});

test('a misspelt parameter is named, with those there are', async () => {
  const answer = await owner({ url: '/api/parts?limt=1' });
  expect(answer.json()).toMatchObject({ status: 422, code: 'invalid-input' });
  expect(answer.json<{ detail: string }>().detail).toMatch(/unknown parameter limt; allowed: .*limit/);
});
