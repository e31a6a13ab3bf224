import { createReadStream } from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { createGunzip } from 'node:zlib';
import pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { copyColumns } from './index.ts';
import { readManifest, type Manifest, type TableCopy } from './manifest.ts';
import { appliedMigrations, applyMigration, migrate, readMigrations } from '../migrate.ts';

/**
 * Writes a backup into an empty database, all of it or nothing, and brings it to the state this build needs. A
 * backup of an older Huelot is restored in its own shape first and then migrated.
 *
 * @example
 * await restoreBackup({ connectionString, folder: '/mnt/backups/huelot-2031-05-06T02-00-00.000Z' });
 */
export async function restoreBackup({
  connectionString,
  folder,
  migrations = readMigrations(),
}: {
  connectionString: string;
  folder: string;
  migrations?: ReturnType<typeof readMigrations>;
}): Promise<Manifest> {
  const manifest = await readManifest(folder);
  refuseNewer(manifest, migrations);
  const client = new pg.Client({ connectionString });
  client.on('error', () => undefined); // The query in flight reports it.
  await client.connect();
  try {
    await client.query('begin');
    if ((await appliedMigrations(client)).length > 0) {
      throw new Error('This database is not empty. Restore into a new data folder or an empty database.');
    }
    for (const migration of migrations.slice(0, manifest.migrations.length))
      await applyMigration(client, migration);
    await ignoreRulesOfChange(client);
    await client.query(`truncate ${manifest.tables.map(({ name }) => pg.escapeIdentifier(name)).join(', ')}`);
    for (const table of manifest.tables) await loadTable(client, { table, folder });
    for (const { name, value, isCalled } of manifest.sequences) {
      await client.query('select setval($1::regclass, $2, $3)', [pg.escapeIdentifier(name), value, isCalled]);
    }
    await client.query('commit');
  } finally {
    await client.end();
  }
  await migrate(connectionString, migrations);
  return manifest;
}

function refuseNewer(manifest: Manifest, migrations: ReturnType<typeof readMigrations>): void {
  manifest.migrations.forEach(({ name, checksum }, index) => {
    const own = migrations[index];
    if (own?.name === name && own.checksum === checksum) return;
    throw new Error(
      `The backup was made by another Huelot (${manifest.release}) with a change this one does not know: ${name}. Restore it with that Huelot.`,
    );
  });
}

/** What is restored was allowed when it was written; the rules that freeze it must not judge it again. */
async function ignoreRulesOfChange(client: pg.Client): Promise<void> {
  await client.query('set local session_replication_role = replica').catch((cause: unknown) => {
    throw new Error(
      'Restoring needs a database role that may set session_replication_role: a superuser, or one with ' +
        'GRANT SET ON PARAMETER session_replication_role.',
      { cause },
    );
  });
}

async function loadTable(
  client: pg.Client,
  { table, folder }: { table: TableCopy; folder: string },
): Promise<void> {
  const rows = client.query(copyFrom(`copy ${copyColumns(table)} from stdin`));
  await pipeline(createReadStream(path.join(folder, table.file)), createGunzip(), rows);
  if (rows.rowCount !== table.rows) {
    throw new Error(
      `${table.name}: ${rows.rowCount} rows arrived of the ${table.rows} that the backup counts.`,
    );
  }
}
