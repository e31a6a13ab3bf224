import { execFileSync } from 'node:child_process';
import { linkSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { utimes } from 'node:fs/promises';
import { hostname } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

/** The claim of one process on one database folder. */
export interface Claim {
  release(): void;
}

interface Owner {
  pid: number;
  host: string;
  /** When that process began, as its system tells it: a number that is used again belongs to another process. */
  born: string;
}

const HEARTBEAT_MS = 2_000;
/** Long enough for a living owner on another machine to show itself. */
const TIMEOUT_MS = 3 * HEARTBEAT_MS;

/**
 * Claims `folder` for this process, or says which process has it. Claims are files with rising numbers, made only if
 * absent, so that of several starts that find the same abandoned claim just one gets the next.
 */
export async function acquireLock(folder: string): Promise<Claim> {
  const last = claims(folder).at(-1) ?? 0;
  if (last > 0) await refuseIfHeld(fileOf(folder, last));

  const file = fileOf(folder, last + 1);
  const owner: Owner = { pid: process.pid, host: hostname(), born: processStartTime(process.pid) ?? '' };
  if (!createExclusive(file, owner)) throw heldBy(file);
  const newest = claims(folder).at(-1) ?? 0;
  if (newest > last + 1) {
    rmSync(file);
    throw heldBy(fileOf(folder, newest));
  }
  for (const older of claims(folder)) if (older <= last) rmSync(fileOf(folder, older), { force: true });

  const beat = setInterval(() => {
    const now = new Date();
    void utimes(file, now, now).catch(() => undefined); // Somebody took the folder away; the database will say so.
  }, HEARTBEAT_MS).unref();
  return {
    release: () => {
      clearInterval(beat);
      rmSync(file, { force: true });
    },
  };
}

/** Makes the file with its whole content at one instant; `false` when there is one already. */
function createExclusive(file: string, owner: Owner): boolean {
  const draft = `${file}.${process.pid}`;
  writeFileSync(draft, JSON.stringify(owner), { mode: 0o600 });
  try {
    linkSync(draft, file);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    return false;
  } finally {
    rmSync(draft, { force: true });
  }
}

/** Processes of this machine can be looked up; one of another machine that shares the folder is known by its beat. */
async function refuseIfHeld(file: string): Promise<void> {
  const owner = read(file);
  if (owner === null) return;
  if (owner.host === hostname()) {
    if (processStartTime(owner.pid) === owner.born) throw heldBy(file);
    return;
  }
  const before = beatOf(file);
  const until = Date.now() + TIMEOUT_MS;
  while (Date.now() < until) {
    await sleep(HEARTBEAT_MS / 4);
    if (beatOf(file) !== before) throw heldBy(file);
  }
}

const fileOf = (folder: string, number: number) => path.join(folder, `owner-${number}`);
const beatOf = (file: string) => statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;

const claims = (folder: string): number[] =>
  readdirSync(folder)
    .flatMap((name) => (/^owner-\d+$/.test(name) ? [Number(name.slice(6))] : []))
    .sort((a, b) => a - b);

function read(file: string): Owner | null {
  try {
    return JSON.parse(readFileSync(file, 'utf8')) as Owner;
  } catch {
    return null; // Released meanwhile.
  }
}

function heldBy(file: string): Error {
  const owner = read(file);
  const who = owner === null ? 'another process' : `process ${owner.pid} on ${owner.host}`;
  return new Error(
    `${path.dirname(file)} is in use by ${who}. Stop that Huelot first, or give this one its own folder with HUELOT_DATA_DIR.`,
  );
}

function processStartTime(pid: number): string | null {
  try {
    if (process.platform !== 'linux')
      return execFileSync('ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8' }).trim();
    const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
    // The name of the program, in brackets, may hold anything; the 20th field after it is the start in clock ticks.
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ');
    return fields?.[19] === undefined ? null : `${boot} ${fields[19]}`;
  } catch {
    return null;
  }
}
