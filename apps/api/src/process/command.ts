import path from 'node:path';
import { parseArgs } from 'node:util';
import { readConfig } from './config.ts';
import { pruneBackups, takeBackup } from '../db/backup/index.ts';
import { restoreBackup } from '../db/backup/restore.ts';
import { openDatabase, type Db } from '../db/client.ts';
import { withEmbedded } from '../db/embedded/borrow.ts';
import { migrate } from '../db/migrate.ts';
import { grantToService, makeRoles, readUser } from '../db/roles.ts';
import { addKey, beginNewKey } from '../core/hash-chain/index.ts';
import { recover } from '../core/people/index.ts';
import { readRelease } from './version.ts';
import { root } from './root.ts';
import { verifyRecord } from './verify-record.ts';

const usage = `What to do with the record, named by HUELOT_DATA_DIR or DATABASE_URL as for the service:

  backup --to FOLDER [--keep N]   write a backup below FOLDER, while people go on working;
                                  with --keep, remove all but the newest N there
  restore FOLDER                  write that backup into an empty data folder or database
  recover NAME                    print a link that works once, within the hour, with which that person chooses a new
                                  password; the second factor is removed
  verify [SEAL]                   compare the whole record with its chain, and with a seal that was kept elsewhere (its
                                  text, or a file that holds it); names the first broken place and ends with 1 if one is
  new-chain-key                   make a new key for the chain; what was chained stays as it is
  make-roles                      on a server of your own, with DATABASE_URL of an administrator: make the role that owns
                                  the tables and the one the service works as, and print their addresses
  migrate                         bring the database to the state this build needs, as every start does`;

/** Commands for whoever runs the service. */
const commands: Record<string, (input: CliArgs) => Promise<string>> = {
  backup: async ({ to, keep }) => {
    if (to === undefined) throw new UsageError('backup needs --to FOLDER');
    const count = keep === undefined ? null : Number(keep);
    if (count !== null && !(Number.isInteger(count) && count >= 1))
      throw new UsageError('--keep must be 1 or more');
    const shelf = path.resolve(to);
    const folder = await inDatabase((connectionString) =>
      takeBackup({ connectionString, shelf, release: readRelease() }),
    );
    const removed = count === null ? [] : pruneBackups(shelf, count);
    return [`The backup is whole: ${folder}`, ...removed.map((name) => `Removed ${name}`)].join('\n');
  },
  restore: async ({ folder }) => {
    if (folder === undefined) throw new UsageError('restore needs the FOLDER of a backup');
    const { takenAt, tables } = await inDatabase((connectionString) =>
      restoreBackup({ connectionString, folder: path.resolve(folder) }),
    );
    await letServiceIn();
    const rows = tables.reduce((sum, table) => sum + table.rows, 0);
    return `Restored the record of ${takenAt}: ${rows} rows in ${tables.length} tables.`;
  },
  recover: async ({ folder: name }) => {
    if (name === undefined) throw new UsageError('recover needs the sign-in NAME of a person');
    const { url, displayName, madeOwner } = await withDatabase((db) => recover(db, { name }));
    const { publicUrl } = readConfig({ dataDir: defaultDataDir });
    return [
      `${displayName} chooses a new password at ${publicUrl}${url}`,
      'It works once, within the hour, and removes the second factor.',
      ...(madeOwner ? [`No owner was left: ${displayName} is one now.`] : []),
    ].join('\n');
  },
  verify: async ({ folder: seal }) => {
    const { chainKeyFile } = readConfig({ dataDir: defaultDataDir });
    return verifyRecord({ seal: seal ?? null, keyFile: chainKeyFile, withDatabase });
  },
  'new-chain-key': async () => {
    const { chainKeyFile } = readConfig({ dataDir: defaultDataDir });
    await withDatabase((db) => beginNewKey(db, addKey(chainKeyFile)));
    return [
      `A new key was written behind those in ${chainKeyFile}; the next entries of the chain are made with it.`,
      'Start the service again, and keep a copy of the file apart from the backups.',
    ].join('\n');
  },
  'make-roles': async () => {
    const { databaseUrl } = readConfig({ dataDir: defaultDataDir });
    if (databaseUrl === null)
      throw new UsageError('make-roles needs DATABASE_URL; the embedded database has both roles');
    const { ownerUrl, serviceUrl } = await makeRoles(databaseUrl);
    return [
      'Keep these; the passwords are shown this once.',
      `DATABASE_URL=${serviceUrl}`,
      `HUELOT_OWNER_URL=${ownerUrl}`,
    ].join('\n');
  },
  migrate: async () => {
    const applied = await inDatabase((connectionString) => migrate(connectionString));
    await letServiceIn();
    return applied.length === 0 ? 'Everything was up to date.' : `Applied ${applied.join(', ')}.`;
  },
};

interface CliArgs {
  to: string | undefined;
  keep: string | undefined;
  folder: string | undefined;
}

class UsageError extends Error {}

const defaultDataDir = path.join(root, '.huelot', 'shop');

/** Works in the database as the owner of its tables. */
function inDatabase<T>(work: (connectionString: string) => Promise<T>): Promise<T> {
  const { databaseUrl, ownerUrl, dataDir } = readConfig({ dataDir: defaultDataDir });
  if (databaseUrl === null) return withEmbedded(dataDir, work);
  return work(ownerUrl ?? databaseUrl);
}

/** After what may have made tables. An embedded database does so at each start of the service. */
async function letServiceIn(): Promise<void> {
  const { databaseUrl, ownerUrl } = readConfig({ dataDir: defaultDataDir });
  if (databaseUrl !== null && ownerUrl !== null) await grantToService(ownerUrl, await readUser(databaseUrl));
}

/** Works in the database, which is first brought to the state this build needs. */
const withDatabase = <T>(work: (db: Db) => Promise<T>): Promise<T> =>
  inDatabase(async (connectionString) => {
    await migrate(connectionString);
    const db = openDatabase({ connectionString, max: 2 });
    try {
      return await work(db);
    } finally {
      await db.close();
    }
  });

/** Reads the command line, does what it says and returns the exit code. */
async function run(): Promise<number> {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: { to: { type: 'string' }, keep: { type: 'string' } },
    });
    const [name = '', folder, ...rest] = positionals;
    const command = commands[name];
    if (command === undefined || rest.length > 0)
      throw new UsageError(`There is no command "${positionals.join(' ')}"`);
    console.log(await command({ ...{ to: undefined, keep: undefined }, ...values, folder }));
    return 0;
  } catch (error) {
    const isMisuse =
      error instanceof UsageError || String((error as { code?: string }).code).startsWith('ERR_PARSE_ARGS');
    console.error(isMisuse ? `${(error as Error).message}\n\n${usage}` : (error as Error).message);
    return isMisuse ? 2 : 1;
  }
}

process.exitCode = await run();
