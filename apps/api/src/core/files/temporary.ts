import { mkdtemp, readdir, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';

const PREFIX = 'huelot-upload-';
const DAY_MS = 24 * 3600 * 1000;

/** Those of this process that are in use. */
const inUse = new Set<string>();

/** A new folder for one upload, named after this process. */
export async function openTemporary(): Promise<{ folder: string; remove: () => Promise<void> }> {
  const folder = await mkdtemp(path.join(tmpdir(), `${PREFIX}${process.pid}-`));
  inUse.add(folder);
  return {
    folder,
    remove: async () => {
      inUse.delete(folder);
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/**
 * Removes what uploads left that were cut off by the end of their process. What belongs to a process that lives is
 * left alone for a day: its number may by then be another program's.
 */
export async function sweepTemporary(): Promise<string[]> {
  const removed: string[] = [];
  for (const name of await readdir(tmpdir())) {
    const folder = path.join(tmpdir(), name);
    if (!name.startsWith(PREFIX) || inUse.has(folder) || !(await isOrphaned(folder))) continue;
    await rm(folder, { recursive: true, force: true });
    removed.push(name);
  }
  return removed;
}

async function isOrphaned(folder: string): Promise<boolean> {
  const [, pid] = /-(\d+)-[^-]*$/.exec(folder) ?? [];
  if (pid !== undefined && (Number(pid) === process.pid || !isAlive(Number(pid)))) return true;
  const age = Date.now() - (await stat(folder).catch(() => ({ mtimeMs: Date.now() }))).mtimeMs;
  return age > DAY_MS;
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
