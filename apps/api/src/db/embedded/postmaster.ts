import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { existsSync, readFileSync, readlinkSync, rmSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Place } from './paths.ts';

/**
 * A server that an earlier Huelot left running (killed without warning) is stopped in an orderly way, so that
 * nothing it promised is lost. Call it only while holding the claim on the folder.
 */
export async function stopOrphan({ cluster }: Place, log: (line: string) => void): Promise<void> {
  const running = runningServer(cluster);
  if (running === null) {
    // In a container the number soon goes to another process, and PostgreSQL would take that one for a server.
    rmSync(path.join(cluster, 'postmaster.pid'), { force: true });
    return;
  }
  const { pid } = running;
  log('The database server of an earlier run is still running; stopping it.');
  await stopServer(pid, { isGone: () => !isPostmasterOf(cluster, pid), orderlyMs: ABANDONED_MS, log });
}

/** The server that works in this data directory now. */
export function runningServer(cluster: string): { pid: number; port: number } | null {
  const file = path.join(cluster, 'postmaster.pid');
  if (!existsSync(file)) return null;
  const [pid, , , port] = readFileSync(file, 'utf8').split('\n').map(Number);
  if (pid === undefined || port === undefined || !isPostmasterOf(cluster, pid)) return null;
  return { pid, port };
}

/** How long a server of ours may write everything down. */
const ORDERLY_MS = 60_000;
/** How long one that was left behind may, which somebody who starts the service waits for. */
const ABANDONED_MS = 3_000;
/** PostgreSQL itself kills processes of its own that do not go within five seconds of an immediate shutdown. */
const IMMEDIATE_MS = 8_000;

/**
 * Fast shutdown, which rolls back what is unfinished and writes everything down; where that hangs, immediate shutdown,
 * after which the next start recovers everything that was acknowledged from the log of writes.
 */
export async function stopServer(
  pid: number,
  {
    isGone,
    orderlyMs = ORDERLY_MS,
    log = () => undefined,
  }: { isGone: () => boolean; orderlyMs?: number; log?: (line: string) => void },
): Promise<void> {
  for (const [signal, patienceMs] of [
    ['SIGINT', orderlyMs],
    ['SIGQUIT', IMMEDIATE_MS],
    ['SIGKILL', IMMEDIATE_MS],
  ] as const) {
    if (signal !== 'SIGINT') {
      log('It does not shut down cleanly; stopping it now. Committed data is recovered at the next start.');
    }
    send(pid, signal);
    for (const until = Date.now() + patienceMs; Date.now() < until; await sleep(20)) if (isGone()) return;
  }
  throw new Error(`The database server (process ${pid}) does not stop.`);
}

/**
 * A process that stops the server when this process ends, however it ends: it waits on a pipe that only this process
 * holds. It has a process group of its own, so that Ctrl-C in the terminal does not reach it.
 */
export function spawnWatchdog(pid: number | undefined, { account }: Place): ChildProcess {
  const watcher = spawn('/bin/sh', ['-c', 'read -r _; kill -INT "$1"', 'huelot-watch', String(pid)], {
    ...account,
    cwd: '/',
    detached: true,
    stdio: ['pipe', 'ignore', 'ignore'],
  });
  watcher.on('error', () => undefined);
  watcher.unref();
  return watcher;
}

function send(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error;
  }
}

/** PostgreSQL works in its data directory, by which its processes are known. */
function isPostmasterOf(cluster: string, pid: number): boolean {
  try {
    if (process.platform === 'linux') return readlinkSync(`/proc/${pid}/cwd`) === cluster;
    return execFileSync('ps', ['-o', 'command=', '-p', String(pid)], { encoding: 'utf8' }).includes(cluster);
  } catch {
    return false;
  }
}
