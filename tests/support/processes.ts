import { execFileSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';

export interface Process {
  pid: number;
  parent: number;
  command: string;
}

/** Every process that can be seen and lives. */
export function processes(): Process[] {
  if (process.platform !== 'linux') return fromPs();
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((name) => {
      try {
        const [state, parent] =
          readFileSync(`/proc/${name}/stat`, 'utf8').split(') ').at(-1)?.split(' ') ?? [];
        const command = readFileSync(`/proc/${name}/cmdline`, 'utf8').replaceAll('\0', ' ').trim();
        return state === 'Z' ? [] : [{ pid: Number(name), parent: Number(parent), command }];
      } catch {
        return []; // It ended while we looked.
      }
    });
}

function fromPs(): Process[] {
  return execFileSync('ps', ['-axo', 'pid=,ppid=,command='], { encoding: 'utf8' })
    .split('\n')
    .flatMap((line) => {
      const [, pid, parent, command = ''] = /^\s*(\d+)\s+(\d+)\s+(.*)$/.exec(line) ?? [];
      return pid === undefined ? [] : [{ pid: Number(pid), parent: Number(parent), command }];
    });
}

/** The processes that came from `pid`, their children included. */
export function descendants(pid: number, among = processes()): Process[] {
  return among
    .filter(({ parent }) => parent === pid)
    .flatMap((child) => [child, ...descendants(child.pid, among)]);
}

/** Sends a signal; a process that is gone already is fine. */
export function signal(pid: number, name: NodeJS.Signals): void {
  try {
    process.kill(pid, name);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error;
  }
}
