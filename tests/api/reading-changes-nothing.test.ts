import { Role } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { loadDemo } from '../../apps/api/src/demo/load.ts';
import { testApp } from '../support/app.ts';
import { addressOf, endpoints } from '../support/endpoints.ts';

const { db, as } = await testApp();
await loadDemo(db, { log: () => undefined });

/** The time a browser was last seen is what a sign-in ends by; it is no part of the record. */
const ownBooks = new Set(['sign_in', 'attempt_window']);

/** A print is an event of the record: the paper is kept as it was handed out, and the audit trail says who printed it. */
const prints = new Set(['printTraveler', 'printQuotation']);

/** A digest of all rows of every table. */
async function digests(): Promise<Record<string, string>> {
  const { rows } = await db.pool.query<{ name: string }>(
    `select tablename as name from pg_tables where schemaname = 'public' order by 1`,
  );
  const names = rows.map(({ name }) => name).filter((name) => !ownBooks.has(name));
  const one = async (name: string) => {
    const found = await db.pool.query<{ digest: string }>(
      `select coalesce(md5(string_agg(whole, ',' order by whole)), '') as digest from (select t::text as whole from "${name}" t) rows`,
    );
    return [name, found.rows[0]?.digest ?? ''] as const;
  };
  return Object.fromEntries(await Promise.all(names.map(one)));
}

test('a GET or a HEAD changed the record', async () => {
  const everybody = await as(...Role.options);
  const readings = endpoints.filter(([name, { method }]) => method === 'GET' && !prints.has(name));
  expect(readings.length).toBeGreaterThan(80);
  const before = await digests();
  expect(Object.keys(before).length).toBeGreaterThan(50);
  let answered = 0;
  for (const [name, endpoint] of readings) {
    for (const method of ['GET', 'HEAD'] as const) {
      const answer = await everybody({ method, url: addressOf(endpoint) });
      expect(answer.statusCode, name).toBeLessThan(500);
      if (answer.statusCode === 200) answered += 1;
    }
  }
  expect(answered).toBeGreaterThan(100);
  expect(await digests()).toEqual(before);
}, 240_000);
