import Fastify from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import { expect, test } from 'vitest';
import { cloneDatabase, testDatabase } from '../../../../tests/support/database.ts';
import { openDatabase, type Db } from '../db/client.ts';
import health from './health.ts';

async function ask(db: Db, address: string) {
  const app = Fastify();
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  app.decorate('db', db);
  app.decorate('release', '1.2.3');
  await app.register(health);
  const answer = await app.inject(address);
  await app.close();
  return { status: answer.statusCode, body: answer.json<unknown>(), cached: answer.headers['cache-control'] };
}

test('all is well', async () => {
  const db = await testDatabase();
  const body = { service: 'up', version: '1.2.3', database: 'up' };
  expect(await ask(db, '/api/health')).toEqual({ status: 200, body, cached: 'no-store' });
  expect(await ask(db, '/api/health/ready')).toEqual({ status: 200, body, cached: 'no-store' });
});

test('a database that does not answer makes the service not ready, but not dead', async () => {
  const nobody = openDatabase({ connectionString: 'postgresql://a:b@127.0.0.1:1/none' });
  const reason = 'The database cannot be reached: nothing answers at its address.';
  const body = { service: 'up', version: '1.2.3', database: 'down', reason };
  expect(await ask(nobody, '/api/health')).toEqual({ status: 503, body, cached: 'no-store' });
  expect(await ask(nobody, '/api/health/ready')).toEqual({ status: 503, body, cached: 'no-store' });
  expect(await ask(nobody, '/api/health/live')).toEqual({
    status: 200,
    body: { service: 'up', version: '1.2.3' },
    cached: 'no-store',
  });
  await nobody.close();
});

test('every connection is in use: told as busy, and up again when one is free', async () => {
  const { url, drop } = await cloneDatabase();
  const db = openDatabase({ connectionString: url, max: 1 });
  const holder = await db.pool.connect();
  const busy = await ask(db, '/api/health');
  expect(busy).toMatchObject({ status: 503, body: { database: 'busy' } });
  holder.release();
  expect(await ask(db, '/api/health')).toMatchObject({ status: 200, body: { database: 'up' } });
  await db.close();
  await drop();
});
