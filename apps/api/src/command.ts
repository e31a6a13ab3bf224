import path from 'node:path';
import { parseArgs } from 'node:util';
import { readConfig } from './config.ts';
import { pruneBackups, takeBackup } from './db/backup.ts';
import { restoreBackup } from './db/backup-restore.ts';
import { withEmbedded } from './db/embedded-borrow.ts';
import { migrate } from './db/migrate.ts';
import { readRelease } from './release.ts';
import { root } from './root.ts';

const usage = `What to do with the record, named by HUELOT_DATA_DIR or DATABASE_URL as for the service:

  backup --to FOLDER [--keep N]   write a backup below FOLDER, while people go on working;
                                  with --keep, remove all but the newest N there
  restore FOLDER                  write that backup into an empty data folder or database
  migrate                         bring the database to the state this build needs, as every start does`;

/** Commands for whoever runs the service. */
const commands: Record<string, (given: Given) => Promise<string>> = {
  backup: async ({ to, keep }) => {
    if (to === undefined) throw new Misuse('backup needs --to FOLDER');
    const count = keep === undefined ? null : Number(keep);
    if (count !== null && !(Number.isInteger(count) && count >= 1))
      throw new Misuse('--keep must be 1 or more');
    const shelf = path.resolve(to);
    const folder = await inDatabase((connectionString) =>
      takeBackup({ connectionString, shelf, release: readRelease() }),
    );
    const removed = count === null ? [] : pruneBackups(shelf, count);
    return [`The backup is whole: ${folder}`, ...removed.map((name) => `Removed ${name}`)].join('\n');
  },
  restore: async ({ folder }) => {
    if (folder === undefined) throw new Misuse('restore needs the FOLDER of a backup');
    const { takenAt, tables } = await inDatabase((connectionString) =>
      restoreBackup({ connectionString, folder: path.resolve(folder) }),
    );
    const rows = tables.reduce((sum, table) => sum + table.rows, 0);
    return `Restored the record of ${takenAt}: ${rows} rows in ${tables.length} tables.`;
  },
  migrate: async () => {
    const applied = await inDatabase((connectionString) => migrate(connectionString));
    return applied.length === 0 ? 'Everything was up to date.' : `Applied ${applied.join(', ')}.`;
  },
};

interface Given {
  to: string | undefined;
  keep: string | undefined;
  folder: string | undefined;
}

class Misuse extends Error {}

function inDatabase<T>(work: (connectionString: string) => Promise<T>): Promise<T> {
  const { databaseUrl, dataDir } = readConfig({ dataDir: path.join(root, '.huelot', 'shop') });
  return databaseUrl === null ? withEmbedded(dataDir, work) : work(databaseUrl);
}

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
      throw new Misuse(`There is no command "${positionals.join(' ')}"`);
    console.log(await command({ ...{ to: undefined, keep: undefined }, ...values, folder }));
    return 0;
  } catch (error) {
    const isMisuse =
      error instanceof Misuse || String((error as { code?: string }).code).startsWith('ERR_PARSE_ARGS');
    console.error(isMisuse ? `${(error as Error).message}\n\n${usage}` : (error as Error).message);
    return isMisuse ? 2 : 1;
  }
}

process.exitCode = await run();
