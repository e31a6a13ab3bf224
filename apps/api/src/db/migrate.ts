import { createHash, randomUUID } from 'node:crypto';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import pg from 'pg';
import { root } from '../process/root.ts';

export interface Migration {
  name: string;
  sql: string;
  checksum: string;
}

/** The lock that Prisma's own tools take, so that they and we never migrate at once. */
export const migrationLock = 72_707_369;
const OLDEST_SERVER = 14;

/**
 * Brings the database to the state this build needs and returns the names of the migrations it applied. Each one is
 * applied whole or not at all, and any number of processes may call this at once. Refuses a database that a newer or
 * altered build has touched, or that holds something else.
 *
 * @example
 * await migrate('postgresql://localhost/huelot');
 */
export async function migrate(connectionString: string, migrations = readMigrations()): Promise<string[]> {
  const client = new pg.Client({ connectionString });
  client.on('error', () => undefined); // The query in flight reports it.
  await client.connect();
  try {
    await refuseOldServer(client);
    await client.query('select pg_advisory_lock($1)', [migrationLock]);
    const known = await appliedMigrations(client);
    refuseForeign(known, migrations);
    const missing = migrations.slice(known.length);
    for (const migration of missing) await apply(client, migration);
    return missing.map(({ name }) => name);
  } finally {
    await client.end();
  }
}

/** The migrations of this build, in order. */
export function readMigrations(folder = path.join(root, 'prisma', 'migrations')): Migration[] {
  return readdirSync(folder)
    .sort()
    .map((name) => ({ name, file: path.join(folder, name, 'migration.sql') }))
    .filter(({ file }) => existsSync(file))
    .map(({ name, file }) => {
      const sql = readFileSync(file, 'utf8');
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') };
    });
}

interface Applied {
  name: string;
  checksum: string;
  finished: boolean;
}

/** What the database says was applied, in order; makes Prisma's table in an empty database. */
export async function appliedMigrations(client: pg.ClientBase): Promise<Applied[]> {
  const { rows: tables } = await client.query<{ name: string }>(
    `select tablename as name from pg_tables where schemaname = current_schema()`,
  );
  if (!tables.some(({ name }) => name === '_prisma_migrations')) {
    if (tables.length > 0) {
      throw new Error('This database holds tables that are not Huelot’s. Give Huelot a database of its own.');
    }
    await client.query(createTable);
  }
  const { rows } = await client.query<Applied>(
    `select migration_name as name, checksum, finished_at is not null as finished
       from _prisma_migrations where rolled_back_at is null order by migration_name`,
  );
  return rows;
}

/** In the form that Prisma's tools read. */
const createTable = `create table _prisma_migrations (
  id varchar(36) primary key not null,
  checksum varchar(64) not null,
  finished_at timestamptz,
  migration_name varchar(255) not null,
  logs text,
  rolled_back_at timestamptz,
  started_at timestamptz not null default now(),
  applied_steps_count integer not null default 0
)`;

function refuseForeign(applied: Applied[], migrations: Migration[]): void {
  const unknown = applied
    .filter(({ name }) => !migrations.some((own) => own.name === name))
    .map(({ name }) => name);
  if (unknown.length > 0) {
    throw new Error(
      `This database was used by a newer Huelot: it holds the changes ${unknown.join(', ')}, which this build does not know. ` +
        'Start that newer Huelot, or use another data folder or database.',
    );
  }
  applied.forEach(({ name, checksum, finished }, index) => {
    const own = migrations[index];
    if (!finished)
      throw new Error(
        `The migration ${name} was begun by another tool and not finished. Restore a backup, or finish it by hand.`,
      );
    if (own?.name !== name)
      throw new Error(`The migration ${own?.name ?? ''} is missing before ${name}. Restore a backup.`);
    if (own.checksum !== checksum) {
      throw new Error(
        `The migration ${name} was applied in another form than the one in this build. Use the build that made this database.`,
      );
    }
  });
}

async function refuseOldServer(client: pg.ClientBase): Promise<void> {
  const { rows } = await client.query<{ major: number }>(
    `select current_setting('server_version_num')::int / 10000 as major`,
  );
  const major = rows[0]?.major ?? 0;
  if (major < OLDEST_SERVER) {
    throw new Error(`This is PostgreSQL ${major}; Huelot needs ${OLDEST_SERVER} or newer.`);
  }
}

async function apply(client: pg.ClientBase, migration: Migration): Promise<void> {
  try {
    await client.query('begin');
    await applyMigration(client, migration);
    await client.query('commit');
  } catch (cause) {
    const words = (cause as Error).message;
    throw new Error(
      `The migration ${migration.name} failed and nothing of it was kept: ${words}${words.includes('pg_trgm') ? withoutTrigrams : ''}`,
      { cause },
    );
  }
}

/** What somebody can do on whose server the search for words cannot be made. */
const withoutTrigrams =
  '. Huelot finds words by pg_trgm, which comes with PostgreSQL (on Linux often in a package postgresql-contrib). Install it on the ' +
  'database server, or let its administrator run “create extension pg_trgm” in this database; then start Huelot again.';

/** Applies one migration and notes it, inside the transaction that is open. */
export async function applyMigration(
  client: pg.ClientBase,
  { name, sql, checksum }: Migration,
): Promise<void> {
  await client.query(sql);
  await client.query(
    `insert into _prisma_migrations (id, checksum, migration_name, finished_at, applied_steps_count)
     values ($1, $2, $3, now(), 1)`,
    [randomUUID(), checksum, name],
  );
}
