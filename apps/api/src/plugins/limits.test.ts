import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { testApp, type Ask } from '../../../../tests/support/app.ts';
import web from './web.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'huelot-limits-'));
for (const name of ['index.html', 'app.js']) writeFileSync(path.join(folder, name), '');
const { app, as } = await testApp({
  rateLimits: true,
  extra: (service) => void service.register(web, { folder }),
});
afterAll(() => rmSync(folder, { recursive: true }));
let ask: Ask;
beforeAll(async () => {
  ask = await as('owner');
});
const from = (remoteAddress: string) => ({ url: '/api/health/live', remoteAddress });

test('a script gone wild is stopped at every address, and nobody else is', async () => {
  for (let count = 1; count <= 3000; count += 1) {
    const answer = await app.inject(from('203.0.113.1'));
    if (count === 3000) expect(answer.statusCode).toBe(200);
  }
  const over = await app.inject(from('203.0.113.1'));
  expect(over.json()).toMatchObject({ status: 429, code: 'too-many-requests' });
  expect(Number(over.headers['retry-after'])).toBeGreaterThan(0);
  for (const url of ['/api/parts', '/api/nothing', '/nothing', '/api/docs'])
    expect((await app.inject({ url, remoteAddress: '203.0.113.1' })).statusCode, url).toBe(429);
  expect((await app.inject(from('203.0.113.2'))).statusCode).toBe(200);
});

test.each(['/api/parts.csv', '/api/tanks.csv', '/api/trace.csv', '/api/audit.csv'])(
  'the export %s is limited more than a page is',
  async (url) => {
    const remoteAddress = '203.0.113.3';
    for (let count = 0; count < 30; count += 1)
      expect((await ask({ url, remoteAddress })).statusCode).toBe(200);
    expect((await ask({ url, remoteAddress })).statusCode).toBe(429);
    expect((await ask({ url: '/api/parts', remoteAddress })).statusCode).toBe(200);
  },
);

test('seven browsers that fetched a new version at one address had no page left', async () => {
  const remoteAddress = '203.0.113.4';
  for (let count = 1; count <= 3001; count += 1) {
    const answer = await app.inject({ url: '/app.js', remoteAddress });
    if (count > 3000) expect(answer.statusCode).toBe(200);
  }
  expect((await app.inject(from(remoteAddress))).statusCode).toBe(200);
});
