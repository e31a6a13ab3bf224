import { afterAll, expect, test } from 'vitest';
import { cloneDatabase } from '../../../../tests/support/database.ts';
import { openDatabase, sql } from './client.ts';
import { outageOf } from './outage.ts';

const { url, drop } = await cloneDatabase();
afterAll(drop);

test('a statement that never ends held its connection for ever', async () => {
  const db = openDatabase({ connectionString: url, statementTimeoutMs: 100 });
  for (const wait of [
    () => db.execute(sql`select pg_sleep(20)::text`),
    () => db.prisma.$queryRaw(sql`select pg_sleep(20)::text`),
  ]) {
    const error: unknown = await wait().then(
      () => null,
      (thrown: unknown) => thrown,
    );
    expect(outageOf(error)).toBe('too-slow');
  }
  await db.close();
});
