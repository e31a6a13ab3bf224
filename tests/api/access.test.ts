import { may, Role } from '@huelot/contracts';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp, type Ask } from '../support/app.ts';
import { addressOf, endpoints } from '../support/endpoints.ts';

const { app, as } = await testApp({ extra: (bare) => bare.get('/api/forgotten', () => 'secret') });
const asked = new Map<Role, Ask>();
beforeAll(async () => {
  for (const role of Role.options) asked.set(role, await as(role));
});

/** These end the sign-in that asks, so they are asked by somebody of their own. */
const endsTheSignIn = (path: string) => path.startsWith('/sign-out') || path.startsWith('/me/sign-ins');

test('every route under /api names who may call it, and every contract is served', () => {
  const served = app.swagger().paths ?? {};
  const missing = endpoints.filter(([, { path, method }]) => !app.hasRoute({ method, url: `/api${path}` }));
  expect(missing.map(([name]) => name)).toEqual([]);
  expect(Object.keys(served).length).toBeGreaterThan(40);
});

test('the description of the API is for whoever is signed in', async () => {
  for (const url of ['/api/openapi.json', '/api/docs/']) {
    expect((await app.inject({ url })).statusCode).toBe(401);
    expect((await asked.get('operator')?.({ url }))?.statusCode).toBe(200);
  }
});

test('a route that names nobody is refused to everybody', async () => {
  const owner = asked.get('owner');
  expect((await owner?.({ url: '/api/forgotten' }))?.statusCode).toBe(403);
});

describe.each(endpoints)('%s', (_name, endpoint) => {
  const request = {
    method: endpoint.method,
    url: addressOf(endpoint),
    ...(endpoint.method === 'GET' ? {} : { payload: {} }),
  };

  test('nobody', async () => {
    const { statusCode } = await app.inject(request);
    if (endpoint.access === 'anyone') expect(statusCode).not.toBe(403);
    else expect(statusCode).toBe(401);
  });

  test.each(Role.options)('%s', async (role) => {
    const ask = endsTheSignIn(endpoint.path) ? await as(role) : asked.get(role);
    const reply = await ask?.(request);
    const { access } = endpoint;
    const allowed = access === 'anyone' || access === 'signed-in' || may([role], access);
    if (!allowed) {
      expect(reply?.statusCode).toBe(403);
      expect(reply?.json()).toMatchObject({ code: 'not-allowed' });
    } else if (endpoint.path.startsWith('/history/')) {
      expect([200, 403]).toContain(reply?.statusCode);
    } else if (access !== 'anyone') {
      expect([401, 403]).not.toContain(reply?.statusCode);
    }
    expect(reply?.statusCode, reply?.body).toBeLessThan(500);
  });
});
