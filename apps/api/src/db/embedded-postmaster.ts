import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { existsSync, readFileSync, readlinkSync, rmSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Place } from './embedded-place.ts';

/**
 * A server that an earlier Huelot left running (killed without warning) is stopped in an orderly way, so that
 * nothing it promised is lost. Call it only while holding the claim on the folder.
 */
export async function stopAbandoned({ cluster }: Place, log: (line: string) => void): Promise<void> {
  const running = runningServer(cluster);
  if (running === null) {
    // In a container the number soon goes to another process, and PostgreSQL would take that one for a server.
    rmSync(path.join(cluster, 'postmaster.pid'), { force: true });
    return;
  }
  const { pid } = running;
  log('The database server of an earlier run is still there; stopping it.');
  await stopServer(pid, () => !isPostmasterOf(cluster, pid));
}

/** The server that works in this data directory now. */
export function runningServer(cluster: string): { pid: number; port: number } | null {
  const file = path.join(cluster, 'postmaster.pid');
  if (!existsSync(file)) return null;
  const [pid, , , port] = readFileSync(file, 'utf8').split('\n').map(Number);
  if (pid === undefined || port === undefined || !isPostmasterOf(cluster, pid)) return null;
  return { pid, port };
}

/** Fast shutdown, which rolls back what is unfinished and writes everything down; harder only if it hangs. */
export async function stopServer(pid: number, isGone: () => boolean): Promise<void> {
  for (const [signal, patienceMs] of [
    ['SIGINT', 60_000],
    ['SIGQUIT', 10_000],
    ['SIGKILL', 10_000],
  ] as const) {
    send(pid, signal);
    for (const until = Date.now() + patienceMs; Date.now() < until; await sleep(20)) if (isGone()) return;
  }
  throw new Error(`The database server (process ${pid}) does not stop.`);
}

/**
 * A process that stops the server when this process ends, however it ends: it waits on a pipe that only this process
 * holds. It has a process group of its own, so that Ctrl-C in the terminal does not reach it.
 */
export function watchOver(pid: number | undefined, { account }: Place): ChildProcess {
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
