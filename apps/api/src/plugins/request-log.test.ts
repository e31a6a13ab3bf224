import { Writable } from 'node:stream';
import { beforeEach, expect, test } from 'vitest';
import { testApp } from '../../../../tests/support/app.ts';
import { withoutSecrets } from './request-log.ts';

let lines: string[] = [];
const stream = new Writable({
  write(chunk, _encoding, done) {
    lines.push(String(chunk));
    done();
  },
});
const { app, as } = await testApp({ logger: { level: 'info', stream } });
beforeEach(() => {
  lines = [];
});
const entries = () => lines.map((line) => JSON.parse(line) as Record<string, unknown>);
const refusals = () => entries().filter(({ msg }) => msg === 'refused');

const token = 'Zq3_x-'.repeat(7) + 'Q';

test.each([
  `/api/invitations/${token}`,
  `/api/calendar/${token}`,
  `/api/calendar/${token}?x=1`,
  `/api/calendar/${token.replaceAll('Z', '%5A')}`,
  `/%61pi/invitations/${token}`,
  `http://localhost:4070/api/invitations/${token}`,
  `/invitation/${token}`,
  `//api/calendar/${token}`,
  `/nothing?token=${token}`,
])('the link in %s does not stand in the log', async (url) => {
  await app.inject({ url });
  expect(lines.length).toBeGreaterThan(0);
  for (const line of lines) expect(line).not.toMatch(/q3_x-/);
});

test('an address without a secret stands in the log as it was asked', () => {
  const address = '/api/lab/baths/12/chart?component=sulfuric-acid&from=2031-05-06T00:00:00.000Z';
  expect(withoutSecrets(address)).toBe(address);
});

test('a failed sign-in is logged with the address it came from, and never with the password', async () => {
  const answer = await app.inject({
    method: 'POST',
    url: '/api/sign-in',
    payload: { name: 'nobody', password: 'correct horse battery' },
    remoteAddress: '203.0.113.7',
  });
  expect(answer.statusCode).toBe(401);
  expect(refusals()).toMatchObject([
    { code: 'wrong-credentials', address: '203.0.113.7', route: 'POST /api/sign-in', person: null },
  ]);
  expect(lines.join('')).not.toContain('correct horse');
});

test('whoever is refused is logged with person, address and route', async () => {
  const operator = await as('operator');
  expect((await operator({ url: '/api/audit', remoteAddress: '203.0.113.8' })).statusCode).toBe(403);
  expect((await app.inject({ url: '/api/parts/7', remoteAddress: '203.0.113.9' })).statusCode).toBe(401);
  expect(refusals()).toMatchObject([
    {
      code: 'not-allowed',
      address: '203.0.113.8',
      route: 'GET /api/audit',
      person: expect.stringMatching(/^operator-/) as string,
    },
    { code: 'not-signed-in', address: '203.0.113.9', route: 'GET /api/parts/:id', person: null },
  ]);
});

test('a request keeps the number a proxy gave it, in the log and in the answer', async () => {
  const answer = await app.inject({ url: '/api/health/live', headers: { 'x-request-id': 'edge-7f3a.12' } });
  expect(answer.headers['x-request-id']).toBe('edge-7f3a.12');
  expect(entries().every(({ reqId }) => reqId === 'edge-7f3a.12')).toBe(true);
  const own = await app.inject({ url: '/api/parts' });
  expect(own.headers['x-request-id']).toMatch(/^[0-9a-f-]{36}$/);
});

test.each(['a b', '{"level":60}', 'x'.repeat(101), '', 'ü', 'a\tb'])(
  'the number %j cannot be one and is replaced',
  async (id) => {
    const answer = await app.inject({ url: '/api/health/live', headers: { 'x-request-id': id } });
    expect(answer.headers['x-request-id']).toMatch(/^[0-9a-f-]{36}$/);
  },
);

test('nobody writes a line of their own into the log', async () => {
  const forged = '\n{"level":60,"msg":"forged"}\r\n';
  await app.inject({
    method: 'POST',
    url: `/api/sign-in?x=${encodeURIComponent(forged)}`,
    headers: { 'user-agent': 'x', 'x-forwarded-for': '1.2.3.4" forged' },
    payload: { name: forged, password: forged },
  });
  await app.inject({ url: `/api/nothing/${forged}` });
  expect(lines.join('').match(/\n/g)?.length).toBe(lines.length);
  expect(entries().map(({ msg }) => msg)).not.toContain('forged');
});
