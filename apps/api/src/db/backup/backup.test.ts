import {
  appendFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, onTestFinished, test } from 'vitest';
import { loadDemo } from '../../demo/load.ts';
import { cloneDatabase } from '../../../../../tests/support/database.ts';
import { query } from '../../../../../tests/support/database-server.ts';
import { pruneBackups, takeBackup } from './index.ts';
import { restoreBackup } from './restore.ts';
import { openDatabase } from '../client.ts';
import { migrate, type Migration } from '../migrate.ts';

let backupDir: string;
beforeEach(() => {
  backupDir = mkdtempSync(path.join(tmpdir(), 'huelot-backup-'));
});
afterEach(() => rmSync(backupDir, { recursive: true }));

/** A database of the template, dropped when the test ends. */
async function database(template: 'template_huelot' | 'template0'): Promise<string> {
  const { url, drop } = await cloneDatabase(template);
  onTestFinished(drop);
  return url;
}

const backup = (connectionString: string) =>
  takeBackup({ connectionString, shelf: backupDir, release: '1.2.3' });

/** Every row of every table as text, and every sequence, so that two databases can be compared. */
async function contents(url: string): Promise<Record<string, unknown>> {
  const tables = await query<{ name: string }>(
    url,
    `select tablename as name from pg_tables where schemaname = 'public' and tablename <> '_prisma_migrations'`,
  );
  const all: Record<string, unknown> = {
    sequences: await query(url, 'select sequencename, last_value from pg_sequences order by 1'),
    migrations: await query(url, 'select migration_name, checksum from _prisma_migrations order by 1'),
  };
  for (const { name } of tables) {
    const sql = `select count(*)::int as rows, md5(string_agg(t::text, ';' order by t::text)) as hash from "${name}" t`;
    all[name] = (await query(url, sql))[0];
  }
  return all;
}

test('a shop with three months of work comes back to the last byte, and its rules hold again', async () => {
  const shop = await database('template_huelot');
  const db = openDatabase({ connectionString: shop });
  await loadDemo(db, { log: () => undefined });
  await db.close();
  const before = await contents(shop);
  expect(before['audit_entry']).not.toMatchObject({ rows: 0 });

  const folder = await backup(shop);
  const empty = await database('template0');
  await restoreBackup({ connectionString: empty, folder });
  expect(await contents(empty)).toEqual(before);
  await expect(query(empty, 'delete from audit_entry')).rejects.toThrow(/kept as it was written/);
  expect(statSync(folder).mode & 0o077).toBe(0);
}, 240_000);

const first: Migration = {
  name: '0001_a',
  sql: 'create table a (id serial primary key, made timestamptz default now())',
  checksum: 'aa',
};
const second: Migration = {
  name: '0002_b',
  sql: "alter table a add column note text not null default 'none'",
  checksum: 'bb',
};

describe('a small record', () => {
  let url: string;
  beforeEach(async () => {
    url = await database('template0');
    await migrate(url, [first]);
    await query(url, 'insert into a select from generate_series(1, 5)');
  });
  const restore = async (folder: string, migrations = [first]) => {
    const empty = await database('template0');
    await restoreBackup({ connectionString: empty, folder, migrations });
    return empty;
  };

  test('restores into a newer Huelot, which then brings it up to date', async () => {
    const empty = await restore(await backup(url), [first, second]);
    expect(await query(empty, 'select count(*)::int as n, min(note) as note from a')).toEqual([
      { n: 5, note: 'none' },
    ]);
    expect(await query(empty, 'insert into a default values returning id')).toEqual([{ id: 6 }]);
  });

  test('does not restore into an older Huelot', async () => {
    await migrate(url, [first, second]);
    await expect(restore(await backup(url))).rejects.toThrow(/a change this one does not know: 0002_b/);
  });

  test('does not restore over a record', async () => {
    const folder = await backup(url);
    await expect(restoreBackup({ connectionString: url, folder, migrations: [first] })).rejects.toThrow(
      'This database is not empty. Restore into a new data folder or an empty database.',
    );
    expect(await query(url, 'select count(*)::int as n from a')).toEqual([{ n: 5 }]);
  });

  test('is one instant, while others write', async () => {
    await query(url, 'create table b (id int primary key)');
    const writer = new pg.Client({ connectionString: url });
    await writer.connect();
    let isWriting = true;
    const writing = (async () => {
      for (let n = 100; isWriting; n += 1) {
        await writer.query(`with one as (insert into a (id) values (${n})) insert into b values (${n})`);
      }
    })();
    const manifests = [];
    for (let n = 0; n < 5; n += 1) {
      manifests.push(JSON.parse(readFileSync(path.join(await backup(url), 'manifest.json'), 'utf8')));
    }
    isWriting = false;
    await writing;
    await writer.end();
    const rows = manifests.map(({ tables }: { tables: { rows: number }[] }) =>
      tables.map((table) => table.rows),
    );
    for (const [a = 0, b = 0] of rows) expect(a - b).toBe(5);
    expect(rows.at(-1)?.[1]).toBeGreaterThan(0);
  });

  test.each([
    ['a file was cut short', (folder: string) => writeFileSync(path.join(folder, 'a.copy.gz'), '')],
    ['a file has grown', (folder: string) => appendFileSync(path.join(folder, 'a.copy.gz'), 'x')],
    ['a file is gone', (folder: string) => rmSync(path.join(folder, 'a.copy.gz'))],
    ['the manifest was cut short', (folder: string) => truncateSync(path.join(folder, 'manifest.json'), 200)],
    ['the manifest is empty', (folder: string) => truncateSync(path.join(folder, 'manifest.json'))],
    [
      'the manifest is something else',
      (folder: string) => writeFileSync(path.join(folder, 'manifest.json'), '{"format":1}'),
    ],
    ['the manifest is gone', (folder: string) => rmSync(path.join(folder, 'manifest.json'))],
  ])('is refused when %s, and nothing is written', async (_what, damage) => {
    const folder = await backup(url);
    damage(folder);
    const empty = await database('template0');
    await expect(restoreBackup({ connectionString: empty, folder, migrations: [first] })).rejects.toThrow(
      /damaged|not a whole backup/,
    );
    expect(await query(empty, `select from pg_tables where schemaname = 'public'`)).toEqual([]);
  });

  test('that loses its connection while it is restored leaves nothing, and says so', async () => {
    const folder = await backup(url);
    const empty = await database('template0');
    const blocker = new pg.Client({ connectionString: empty });
    await blocker.connect();
    await blocker.query('begin; create table _prisma_migrations (id int)');
    const cutOff = expect(
      restoreBackup({ connectionString: empty, folder, migrations: [first] }),
    ).rejects.toThrow(/terminat/);
    const waiting = `select pg_terminate_backend(pid) from pg_stat_activity where wait_event_type = 'Lock' and datname = current_database()`;
    while ((await query(empty, waiting)).length === 0) await sleep(20);
    await cutOff;
    await blocker.query('rollback');
    await blocker.end();
    expect(await query(empty, `select from pg_tables where schemaname = 'public'`)).toEqual([]);
  });

  test('that is cut off leaves nothing that looks like a backup', async () => {
    await query(url, 'create table z (id int)');
    const other = new pg.Client({ connectionString: url });
    await other.connect();
    await other.query('begin; lock table z');
    const attempt = backup(url);
    const cutOff = expect(attempt).rejects.toThrow(/terminat/);
    const waiting = `select pg_terminate_backend(pid) from pg_stat_activity where wait_event_type = 'Lock' and datname = current_database()`;
    while ((await query(url, waiting)).length === 0) await sleep(20);
    await cutOff;
    await other.end();
    expect(readdirSync(backupDir)).toEqual([]);
  });
});

test('only the newest backups are kept, and nothing that is not one is touched', () => {
  const names = [
    'huelot-2031-01-01T00-00-00.000Z',
    'huelot-2031-01-02T00-00-00.000Z',
    'huelot-2031-01-03T00-00-00.000Z',
  ];
  const cutOff = 'huelot-2031-01-02T12-00-00.000Z.partial';
  for (const name of [...names, cutOff, 'huelot-notes', 'other']) mkdirSync(path.join(backupDir, name));
  expect(pruneBackups(backupDir, 2).sort()).toEqual([names[0], cutOff].sort());
  expect(readdirSync(backupDir).sort()).toEqual([...names.slice(1), 'huelot-notes', 'other'].sort());
  expect(existsSync(path.join(backupDir, 'other'))).toBe(true);
});
