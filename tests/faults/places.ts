import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  constants,
  copyFileSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  rmSync,
} from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';

export const checkout = path.resolve(import.meta.dirname, '../..');

/** A new folder that goes when the test ends, with the database that may belong to it elsewhere. */
export function temporaryFolder(name = 'huelot-fault-'): string {
  const folder = mkdtempSync(path.join(tmpdir(), name));
  onTestFinished(() => {
    removeDatabase(folder);
    rmSync(folder, { recursive: true, force: true });
  });
  return folder;
}

/** The database of a data folder, which may lie outside of it. */
export function removeDatabase(dataDir: string): void {
  const entry = path.join(dataDir, 'database');
  if (existsSync(entry)) rmSync(realpathSync(entry), { recursive: true });
}

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

/**
 * A copy of this installation as a server would have it: what was built, and the packages that running needs. Only
 * its owner can enter the folder, whose name has a space.
 */
export function copyInstallation(owner: number): { root: string; node: string } {
  const root = path.join(temporaryFolder(), 'Huelot of ours');
  const wanted = [
    'package.json',
    'prisma/migrations',
    'apps/api/package.json',
    'apps/api/build',
    'apps/web/build',
  ];
  for (const entry of [...wanted, ...packagesToRun()]) {
    cpSync(path.join(checkout, entry), path.join(root, entry), { recursive: true, verbatimSymlinks: true });
  }
  const node = path.join(root, 'node');
  copyFileSync(process.execPath, node, constants.COPYFILE_FICLONE);
  if (owner !== process.getuid?.()) execFileSync('chown', ['-R', String(owner), path.dirname(root)]);
  chmodSync(root, 0o700);
  return { root, node };
}

function packagesToRun(): string[] {
  const lock = JSON.parse(readFileSync(path.join(checkout, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, { dev?: boolean; link?: boolean }>;
  };
  return Object.entries(lock.packages)
    .filter(([place, { dev, link }]) => place.startsWith('node_modules/') && dev !== true && link !== true)
    .map(([place]) => place)
    .filter((place) => existsSync(path.join(checkout, place)));
}
