import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { cloneDatabase } from '../../../../tests/support/database.ts';
import { migrate, readMigrations, type Migration } from './migrate.ts';

let url: string;
let drop: () => Promise<void>;
let client: pg.Client;

beforeEach(async () => {
  ({ url, drop } = await cloneDatabase('template0'));
  client = new pg.Client({ connectionString: url });
  await client.connect();
});
afterEach(async () => {
  await client.end();
  await drop();
});

const [first, second]: [Migration, Migration] = [
  { name: '0001_a', sql: 'create table a (id int)', checksum: 'aa' },
  { name: '0002_b', sql: 'create table b (id int); insert into b values (1)', checksum: 'bb' },
];

test('an empty database gets every migration of this build, and nothing the second time', async () => {
  const all = readMigrations().map(({ name }) => name);
  expect(all.length).toBeGreaterThan(0);
  expect(await migrate(url)).toEqual(all);
  expect(await migrate(url)).toEqual([]);
  const { rows } = await client.query('select migration_name from _prisma_migrations order by 1');
  expect(rows.map((row: { migration_name: string }) => row.migration_name)).toEqual(all);
});

test('only what is missing is applied', async () => {
  await migrate(url, [first]);
  expect(await migrate(url, [first, second])).toEqual(['0002_b']);
});

test('many processes that start at once apply each migration once', async () => {
  const applied = await Promise.all(Array.from({ length: 6 }, () => migrate(url, [first, second])));
  expect(applied.flat().sort()).toEqual(['0001_a', '0002_b']);
});

test('a migration whose connection is cut leaves nothing of itself, and is applied at the next start', async () => {
  const slow = { ...second, sql: 'create table b (id int); select pg_sleep(20)' };
  const cutOff = expect(migrate(url, [first, slow])).rejects.toThrow(
    /0002_b failed and nothing of it was kept/,
  );
  const cut = `select pg_terminate_backend(pid) from pg_stat_activity where wait_event = 'PgSleep' and datname = current_database()`;
  while ((await client.query(cut)).rowCount === 0) await sleep(20);
  await cutOff;
  expect(await migrate(url, [first, second])).toEqual(['0002_b']);
});

test('a migration that fails leaves nothing of itself, and says why', async () => {
  const broken = { ...second, sql: 'create table b (id int); select nonsense' };
  await expect(migrate(url, [first, broken])).rejects.toThrow(
    /0002_b failed and nothing of it was kept: .*nonsense/,
  );
  const { rows } = await client.query(
    `select to_regclass('a') is not null as a, to_regclass('b') is not null as b`,
  );
  expect(rows).toEqual([{ a: true, b: false }]);
  expect(await migrate(url, [first, second])).toEqual(['0002_b']);
});

test('a role that may not make the search for words, or a server without it, says what to do', async () => {
  const name = 'no_extensions';
  await client.query(`create role ${name} login password 'no'`);
  await client.query(`grant create on schema public to ${name}`);
  const theirs = new URL(url);
  [theirs.username, theirs.password] = [name, 'no'];
  try {
    await expect(migrate(theirs.href, [{ ...first, sql: 'create extension pg_trgm' }])).rejects.toThrow(
      /permission denied.*pg_trgm.*create extension pg_trgm” in this database; then start Huelot again/s,
    );
  } finally {
    await client.query(`drop owned by ${name}`);
    await client.query(`drop role ${name}`);
  }
});

test('a database that a newer build has changed is refused', async () => {
  await migrate(url, [first, second]);
  await expect(migrate(url, [first])).rejects.toThrow(/newer Huelot: it holds the changes 0002_b/);
});

test('a migration that was applied in another form is refused', async () => {
  await migrate(url, [first]);
  await expect(migrate(url, [{ ...first, checksum: 'other' }])).rejects.toThrow(
    /0001_a was applied in another form/,
  );
});

test('a migration slipped in before one that is applied is refused', async () => {
  await migrate(url, [second]);
  await expect(migrate(url, [first, second])).rejects.toThrow(/0001_a is missing before 0002_b/);
});

test('a migration that another tool began and did not finish is refused', async () => {
  await migrate(url, [first]);
  await client.query('update _prisma_migrations set finished_at = null');
  await expect(migrate(url, [first])).rejects.toThrow(/0001_a was begun by another tool/);
});

test('a database with somebody else’s tables is refused', async () => {
  await client.query('create table theirs (id int)');
  await expect(migrate(url, [first])).rejects.toThrow(/not Huelot’s/);
});
