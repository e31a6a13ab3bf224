import { afterEach, beforeEach, expect, test } from 'vitest';
import type pg from 'pg';
import { testDatabase } from '../support/database.ts';

const db = await testDatabase();
let client: pg.PoolClient;
beforeEach(async () => {
  client = await db.pool.connect();
  await client.query('begin');
});
afterEach(async () => {
  await client.query('rollback');
  client.release();
});

/** Every table with a trigger of its own, for each row, on update or delete; found in the catalogue, so that a new one counts. */
const { rows: frozen } = await db.pool.query<{ name: string }>(
  `select distinct c.relname as name from pg_trigger t join pg_class c on c.oid = t.tgrelid
    where not t.tgisinternal and c.relnamespace = 'public'::regnamespace and t.tgtype & 1 = 1 and t.tgtype & (8 | 16) > 0
    order by 1`,
);

test('the tables that are frozen row by row are found', () => {
  const names = frozen.map(({ name }) => name);
  expect(names.length).toBeGreaterThan(20);
  expect(names).toEqual(
    expect.arrayContaining([
      ...['audit_entry', 'step_reading', 'rate_card', 'quotation_line', 'traveler', 'file', 'file_chunk'],
    ]),
  );
});

test.each(frozen)('$name could be emptied by truncate, though its rows are frozen', async ({ name }) => {
  // A new table gets: create trigger never_emptied before truncate ... execute function refuse_truncate().
  await expect(client.query(`truncate "${name}" cascade`)).rejects.toMatchObject({ code: 'HU001' });
});

const attachedFile = `
  with sender as (
    insert into "person" ("name", "displayName", "roles") values ('sender', 'Sender', '{owner}') returning "id")
  insert into "file" ("name", "mediaType", "sizeBytes", "sha256", "createdById")
  select 'a.txt', 'text/plain', 1, sha256('a'), "id" from sender returning "id"`;

test.each([
  [`update "file_chunk" set "bytes" = 'b' where "fileId" = $1`],
  [`delete from "file_chunk" where "fileId" = $1`],
  [`insert into "file_chunk" ("fileId", "seq", "bytes") values ($1, 1, 'b')`],
  [`update "file" set "sha256" = sha256('b') where "id" = $1`],
  [`update "file" set "attachedAt" = null where "id" = $1`],
  [`delete from "file" where "id" = $1`],
])('a paper attached to a record could be altered: %s', async (statement) => {
  const { rows } = await client.query<{ id: number }>(attachedFile);
  const fileId = rows[0]?.id;
  await client.query(`insert into "file_chunk" ("fileId", "seq", "bytes") values ($1, 0, 'a')`, [fileId]);
  await client.query(`update "file" set "attachedAt" = now() where "id" = $1`, [fileId]);
  await expect(client.query(statement, [fileId])).rejects.toMatchObject({ code: 'HU001' });
});
