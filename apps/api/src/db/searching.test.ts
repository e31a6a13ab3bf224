import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, describe, expect, test } from 'vitest';
import { cloneDatabase } from '../../../../tests/support/database.ts';
import { openDatabase, sql } from './client.ts';
import { asSearch } from './searching.ts';

const { serviceUrl, drop } = await cloneDatabase();
const db = openDatabase({ connectionString: serviceUrl, max: 2, searchTimeoutMs: 400 });
const patient = openDatabase({ connectionString: serviceUrl, max: 2, searchTimeoutMs: 60_000 });
afterAll(async () => {
  await db.close();
  await patient.close();
  await drop();
});

const still = new AbortController().signal;
const sleeping = async () =>
  (
    await db.execute<{ n: number }>(sql`
      select count(*)::int as "n" from pg_stat_activity
       where "datname" = current_database() and "state" = 'active' and "query" like '%pg_sleep%' and "pid" <> pg_backend_pid()`)
  )[0]?.n;

describe('searches that read for long', () => {
  test('kept everybody else from the database', async () => {
    const searches = Array.from({ length: 20 }, () =>
      asSearch(still, () => db.execute(sql`select pg_sleep(30)::text`)).catch((error: unknown) => error),
    );
    const began = performance.now();
    await db.execute(sql`select 1`);
    await db.prisma.shop.findFirst();
    expect(performance.now() - began).toBeLessThan(2_000);
    for (const answer of await Promise.all(searches)) {
      expect(answer).toMatchObject({ code: 'busy' });
      expect(String(answer)).toMatch(/takes longer than 0.4 s and was stopped|are under way/);
    }
  });

  test('went on after whoever asked had left', async () => {
    const leaving = new AbortController();
    const search = asSearch(leaving.signal, () => patient.execute(sql`select pg_sleep(50)::text`)).catch(
      () => 'ended',
    );
    while ((await sleeping()) !== 1) await sleep(10);
    leaving.abort();
    expect(await search).toBe('ended');
    // The refusal travels a moment before the server process calls itself idle; unstopped it would sleep for 50 s.
    await expect.poll(sleeping, { timeout: 5_000 }).toBe(0);
  });

  test('leave the connection to the next search as it was', async () => {
    const [row] = await asSearch(still, () =>
      patient.execute<{ two: number }>(sql`select ${1}::int + 1 as "two"`),
    );
    expect(row).toEqual({ two: 2 });
  });
});
