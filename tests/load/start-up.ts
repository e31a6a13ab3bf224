import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { descendants } from '../support/processes.ts';
import { checkout, startCommand } from './service.ts';

/** A fresh clone of what is committed, its demo started for the first and for the second time. */
export async function measureStartUp(): Promise<{ freshS: number; warmS: number; restMb: number }> {
  const folder = mkdtempSync(path.join(tmpdir(), 'huelot-clone-'));
  try {
    execFileSync('git', ['clone', '--quiet', checkout, folder]);
    const env = { HUELOT_DATA_DIR: path.join(folder, 'data') };
    const demo = { command: ['npm', 'run', 'demo'] as [string, ...string[]], folder, env };
    const fresh = await startCommand(demo);
    await fresh.stop();
    const warm = await startCommand(demo);
    await sleep(10_000);
    const restMb = memoryMb(warm.pid);
    await warm.stop();
    return { freshS: fresh.seconds, warmS: warm.seconds, restMb };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** What the service itself holds: neither npm, which waits for it, nor the database. */
function memoryMb(pid: number): number {
  const service = descendants(pid).find(({ command }) => command.startsWith('node deploy/demo.mjs'));
  if (service === undefined) throw new Error('the service is not among the processes of npm');
  const [, kilobytes = ''] =
    /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${service.pid}/status`, 'utf8')) ?? [];
  return Number(kilobytes) / 1024;
}
