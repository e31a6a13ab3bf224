import Fastify from 'fastify';
import { expect, test } from 'vitest';
import errors from './errors.ts';
import hosts from './hosts.ts';

async function serviceUnder(allowedHosts: string[]) {
  const app = Fastify();
  app.decorate('publicUrl', 'https://huelot.example.org');
  await app.register(errors);
  await app.register(hosts, { allowedHosts });
  app.get('/api/set-up', () => ({}));
  app.get('/api/health/live', () => ({}));
  return app;
}
const app = await serviceUnder(['tank.local', '192.0.2.10', '[2001:db8::1]']);
const ask = (host: string, url = '/api/set-up') => app.inject({ url, headers: { host } });

test.each(['evil.example', 'huelot.example.org.evil.example', '127.0.0.1:4070', 'x y', ''])(
  'a page under the strange name %j reached the sign-in, by a name pointed at this machine',
  async (host) => {
    const refused = await ask(host);
    expect(refused.statusCode).toBe(403);
    expect(refused.json()).toMatchObject({ code: 'cross-origin' });
    expect((await ask(host, '/%61pi/set-up')).statusCode).toBe(403);
    expect((await ask(host, '/')).statusCode).toBe(403);
  },
);

test.each([
  'huelot.example.org',
  'HUELOT.example.org:443',
  'tank.local:4070',
  '192.0.2.10',
  '[2001:db8::1]:4070',
])('the listed name %s is answered', async (host) => {
  expect((await ask(host)).statusCode).toBe(200);
});

test('watchers ask under any name', async () => {
  expect((await ask('10.0.0.7', '/api/health/live')).statusCode).toBe(200);
});

test('without a list every name is answered', async () => {
  const open = await serviceUnder([]);
  expect((await open.inject({ url: '/api/set-up', headers: { host: 'any.example' } })).statusCode).toBe(200);
});
