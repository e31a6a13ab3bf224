import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { z } from 'zod';
import type { Db } from '../../apps/api/src/db/client.ts';
import { testApp, type Ask } from '../support/app.ts';
import { addressOf, describedStatuses, endpoints } from '../support/endpoints.ts';
import { nearly } from '../support/malformed.ts';
import { equipShop } from '../support/shop.ts';

const { db, app, as } = await testApp();
let everybody: Ask;
beforeAll(async () => {
  await equipShop(db);
  await countChanges(db);
});
// Somebody new for each endpoint: an accepted body may well end a sign-in or an account.
beforeEach(async () => {
  everybody = await as('estimator', 'planner', 'operator', 'lab', 'quality', 'owner');
});

const RUNS = 25;
/** What a refused request may write all the same: that it was refused. */
const mayGrow = new Set([
  ...['attempt_window', 'audit_entry', 'sign_in'],
  ...['chain_form', 'chain_link', 'chain_queue', 'chain_seal'],
]);

/** Counts, in the database itself, every row that a transaction adds or takes away and keeps. */
async function countChanges({ pool }: Db): Promise<void> {
  await pool.query(`
    create sequence changes_kept;
    create function count_change() returns trigger language plpgsql security definer as
      $$ begin perform nextval('changes_kept'); return null; end $$`);
  const { rows } = await pool.query<{ name: string }>(
    `select table_name as name from information_schema.tables where table_schema = 'public' and table_type = 'BASE TABLE'`,
  );
  for (const { name } of rows.filter((table) => !mayGrow.has(table.name))) {
    // Deferred: what is rolled back never comes to its trigger.
    await pool.query(`
      create constraint trigger zz_count_change after insert or delete on "${name}"
        deferrable initially deferred for each row execute function count_change()`);
  }
}

async function changesKept({ pool }: Db): Promise<string> {
  const { rows } = await pool.query<{ changes: string }>(
    `select case when is_called then last_value else 0 end as changes from changes_kept`,
  );
  return rows[0]?.changes ?? '';
}

test('a write that is kept is counted, one that is taken back is not', async () => {
  const before = await changesKept(db);
  const rack = `insert into rack (code, name, "baseMetal", "windowWidthMm", "windowHeightMm", "gapMm", "maxLoadKg") values ('COUNTED', 'Counted', 'titanium', 1, 1, 1, 1)`;
  await db.pool.query(`begin; ${rack}; rollback`);
  expect(await changesKept(db)).toBe(before);
  await db.pool.query(rack);
  expect(await changesKept(db)).not.toBe(before);
});

const writes = endpoints.filter(([, { method, path }]) => method !== 'GET' && !path.startsWith('/sign-out'));
describe.each(writes)('%s', (_name, endpoint) => {
  test('answers whatever body it is sent without a fault of its own, and a refusal writes nothing', async () => {
    const schema = z.toJSONSchema(endpoint.body, { unrepresentable: 'any', io: 'input' }) as Parameters<
      typeof nearly
    >[0];
    const param = fc.constantFrom('1', '2', '999999', '0', '-1', 'x', '4294967296', '%00');
    const version = fc.constantFrom('"1"', '"2"', '1', '"x"', undefined);
    const described = describedStatuses(endpoint);
    let before = await changesKept(db);
    const sent = fc.asyncProperty(nearly(schema), param, version, async (body, id, etag) => {
      const reply = await everybody({
        method: endpoint.method,
        url: addressOf(endpoint, id),
        // A key of our own: whether a write that is carried out is audited is asked elsewhere, and many change nothing.
        headers: {
          'content-type': 'application/json',
          'idempotency-key': randomUUID(),
          ...(etag === undefined ? {} : { 'if-match': etag }),
        },
        payload: JSON.stringify(body),
      });
      expect(reply.statusCode, `${JSON.stringify(body)} -> ${reply.body}`).toBeLessThan(500);
      expect(described, reply.body).toContain(reply.statusCode);
      if (reply.statusCode < 400) {
        before = await changesKept(db);
        return;
      }
      expect(reply.headers['content-type']).toContain('application/problem+json');
      expect(reply.json<{ detail: string }>().detail.length).toBeGreaterThan(0);
      expect(await changesKept(db)).toEqual(before);
    });
    await fc.assert(sent, { numRuns: RUNS, seed: 4070 });
  });
});

const reads = endpoints.filter(([, { method }]) => method === 'GET');
describe.each(reads)('%s', (_name, endpoint) => {
  test('answers whatever query it is sent without a fault of its own', async () => {
    const names = Object.keys((endpoint.query as unknown as { shape: object }).shape);
    const value = fc.constantFrom(
      '',
      '0',
      '1',
      '-1',
      '99999999999',
      'x',
      "'",
      '%',
      '\0',
      '2026-02-30',
      '[]',
      'voltageV:1:2',
      'W10',
      'a'.repeat(600),
    );
    const query =
      names.length === 0
        ? fc.constant<[string, string][]>([])
        : fc.array(fc.tuple(fc.constantFrom(...names), value), { maxLength: 4 });
    const sent = fc.asyncProperty(
      query,
      fc.constantFrom('1', '999999', 'x', '0', '4294967296'),
      async (pairs, id) => {
        const reply = await everybody({
          url: `${addressOf(endpoint, id)}?${new URLSearchParams(pairs).toString()}`,
        });
        expect(reply.statusCode, `${JSON.stringify(pairs)} -> ${reply.body.slice(0, 500)}`).toBeLessThan(500);
        expect(describedStatuses(endpoint), reply.body).toContain(reply.statusCode);
      },
    );
    await fc.assert(sent, { numRuns: RUNS, seed: 4070 });
  });
});

test.each([
  ['not JSON', '{"name":', 'application/json', 400],
  ['another kind', '<name/>', 'application/xml', 415],
  ['larger than allowed', JSON.stringify({ name: 'x'.repeat(3_000_000) }), 'application/json', 413],
])('a body that is %s', async (...[, payload, type, status]) => {
  const reply = await everybody({
    method: 'POST',
    url: '/api/customers',
    payload,
    headers: { 'content-type': type },
  });
  expect(reply.statusCode).toBe(status);
  expect(reply.json<{ reference?: string }>().reference).toBeUndefined();
});

test('an address that is not there is a problem like any other', async () => {
  const reply = await app.inject({ url: '/api/no-such-thing' });
  expect([reply.statusCode, reply.json<{ code: string }>().code]).toEqual([404, 'not-found']);
});
