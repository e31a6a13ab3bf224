import { createWriteStream, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import pg from 'pg';
import { to as copyTo } from 'pg-copy-streams';
import { manifestFile, sha256Of, type Manifest, type TableCopy } from './manifest.ts';

/**
 * Writes the whole record, as it is at one instant, into a new folder below `shelf`, while people go on working.
 * Returns that folder; it gets its name only when it is whole. The copy is text, so that it restores on every system
 * and every version of PostgreSQL that Huelot runs on.
 *
 * @example
 * await takeBackup({ connectionString, shelf: '/mnt/backups', release: '0.1.0' });
 */
export async function takeBackup({
  shelf,
  connectionString,
  release,
}: {
  connectionString: string;
  shelf: string;
  release: string;
}): Promise<string> {
  const takenAt = new Date().toISOString();
  const folder = path.join(shelf, `huelot-${takenAt.replaceAll(':', '-')}`);
  const partial = `${folder}.partial`;
  const client = new pg.Client({ connectionString });
  client.on('error', () => undefined); // The query in flight reports it.
  await client.connect();
  try {
    mkdirSync(partial, { recursive: true, mode: 0o700 });
    await client.query('begin isolation level repeatable read, read only');
    const { migrations, postgresql } = await readState(client);
    const tables: TableCopy[] = [];
    for (const table of await readTables(client))
      tables.push(await copyTable(client, { table, folder: partial }));
    const sequences = await readSequences(client);
    await client.query('commit');
    const manifest: Manifest = {
      format: 1,
      release,
      takenAt,
      postgresql,
      migrations,
      tables,
      sequences,
    };
    writeFileSync(manifestFile(partial), JSON.stringify(manifest, null, 2), { mode: 0o600 });
    renameSync(partial, folder);
    return folder;
  } catch (error) {
    rmSync(partial, { recursive: true, force: true });
    throw error;
  } finally {
    await client.end();
  }
}

/** Removes all but the newest `keep` backups of a shelf, and what cut-off ones have left. */
export function pruneBackups(shelf: string, keep: number): string[] {
  const names = readdirSync(shelf).filter((name) =>
    /^huelot-\d{4}-\d\d-\d\dT[\d-]+\.\d{3}Z(\.partial)?$/.test(name),
  );
  const whole = names.filter((name) => !name.endsWith('.partial')).sort();
  const superfluous = [...whole.slice(0, -keep), ...names.filter((name) => name.endsWith('.partial'))];
  for (const name of superfluous) rmSync(path.join(shelf, name), { recursive: true });
  return superfluous;
}

async function readState(client: pg.Client) {
  const { rows: migrations } = await client.query<{ name: string; checksum: string }>(
    `select migration_name as name, checksum from _prisma_migrations
      where rolled_back_at is null and finished_at is not null order by migration_name`,
  );
  const { rows: version } = await client.query<{ server_version: string }>('show server_version');
  return { migrations, postgresql: version[0]?.server_version ?? '' };
}

async function readTables(client: pg.Client) {
  const { rows } = await client.query<{ name: string; columns: string[] }>(
    `select c.relname as name, array_agg(a.attname::text order by a.attnum) as columns
       from pg_class c join pg_attribute a on a.attrelid = c.oid
      where c.relnamespace = current_schema()::regnamespace and c.relkind = 'r' and c.relname <> '_prisma_migrations'
        and a.attnum > 0 and not a.attisdropped and a.attgenerated = ''
      group by c.relname order by c.relname`,
  );
  return rows;
}

async function copyTable(
  client: pg.Client,
  { table, folder }: { table: { name: string; columns: string[] }; folder: string },
): Promise<TableCopy> {
  const file = `${table.name}.copy.gz`;
  const target = path.join(folder, file);
  const rows = client.query(copyTo(`copy ${copyColumns(table)} to stdout`));
  await pipeline(rows, createGzip(), createWriteStream(target, { mode: 0o600 }));
  return { ...table, rows: rows.rowCount, file, sha256: await sha256Of(target) };
}

/** The table and its columns by name, so that their order may differ where they are restored. */
export const copyColumns = ({ name, columns }: { name: string; columns: string[] }) =>
  `${pg.escapeIdentifier(name)} (${columns.map((column) => pg.escapeIdentifier(column)).join(', ')})`;

/** Read after the tables: a sequence may run ahead of the snapshot, and must never lie behind it. */
async function readSequences(client: pg.Client): Promise<Manifest['sequences']> {
  const { rows } = await client.query<{ name: string }>(
    `select sequencename as name from pg_sequences where schemaname = current_schema() order by 1`,
  );
  const sequences: Manifest['sequences'] = [];
  for (const { name } of rows) {
    const { rows: state } = await client.query<{ value: string; isCalled: boolean }>(
      `select last_value::text as value, is_called as "isCalled" from ${pg.escapeIdentifier(name)}`,
    );
    sequences.push(...state.map((at) => ({ name, ...at })));
  }
  return sequences;
}
