import Fastify from 'fastify';
import { expect, test } from 'vitest';
import { testDatabase } from '../../../../tests/support/database.ts';
import { openDatabase, type Db } from '../db/client.ts';
import health from './health.ts';

async function ask(db: Db) {
  const app = Fastify();
  app.decorate('db', db);
  app.decorate('release', '1.2.3');
  await app.register(health);
  const answer = await app.inject('/api/health');
  await app.close();
  return { status: answer.statusCode, body: answer.json<unknown>(), cached: answer.headers['cache-control'] };
}

test('all is well', async () => {
  const body = { service: 'up', version: '1.2.3', database: 'up' };
  expect(await ask(await testDatabase())).toEqual({ status: 200, body, cached: 'no-store' });
});

test('the database does not answer', async () => {
  const nobody = openDatabase({ connectionString: 'postgresql://a:b@127.0.0.1:1/none' });
  const body = { service: 'up', version: '1.2.3', database: 'down' };
  expect(await ask(nobody)).toEqual({ status: 503, body, cached: 'no-store' });
  await nobody.close();
});
