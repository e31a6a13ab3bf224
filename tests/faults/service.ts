import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, realpathSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { onTestFinished } from 'vitest';
import { descendants, processes, signal } from '../support/processes.ts';
import { checkout, freePort, temporaryFolder } from './places.ts';

export interface Options {
  dataDir?: string;
  port?: number;
  env?: Record<string, string>;
  /** Another installation than this checkout, with its own Node. */
  installation?: { root: string; node: string };
  /** Another account, for tests that run as root. */
  account?: { uid?: number; gid?: number };
  /** Through `npm start`, as people start it in a checkout. */
  viaNpm?: boolean;
}

/** The built service in a process of its own, as `npm start` runs it; killed with all it started when the test ends. */
export class Service {
  readonly url: string;
  readonly dataDir: string;
  readonly process: ChildProcess;
  output = '';

  private constructor(process: ChildProcess, { url, dataDir }: { url: string; dataDir: string }) {
    this.process = process;
    this.url = url;
    this.dataDir = dataDir;
    for (const stream of [process.stdout, process.stderr]) {
      stream?.on('data', (chunk: Buffer) => (this.output += chunk.toString()));
    }
  }

  /** Starts it without waiting for anything. */
  static async launch(options: Options = {}): Promise<Service> {
    const { dataDir = temporaryFolder(), port = await freePort(), account = {}, env = {} } = options;
    const { root, node } = options.installation ?? { root: checkout, node: process.execPath };
    const [program, args, folder] =
      options.viaNpm === true
        ? (['npm', ['start'], root] as const)
        : ([node, [path.join(root, 'apps/api/build/server.js')], '/'] as const);
    const child = spawn(program, args, {
      ...account,
      cwd: folder,
      detached: true, // A process group of its own, as a terminal gives it.
      env: { PATH: process.env['PATH'] ?? '', HUELOT_PORT: String(port), HUELOT_DATA_DIR: dataDir, ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const service = new Service(child, { url: `http://127.0.0.1:${port}`, dataDir });
    onTestFinished(() => service.killTree());
    return service;
  }

  /** Starts it and waits until it answers. */
  static async start(options: Options = {}): Promise<Service> {
    const service = await Service.launch(options);
    await service.untilHealthy();
    return service;
  }

  get pid(): number {
    if (this.process.pid === undefined) throw new Error('The service could not be spawned.');
    return this.process.pid;
  }

  get isRunning(): boolean {
    return this.process.exitCode === null && this.process.signalCode === null;
  }

  async untilHealthy(): Promise<void> {
    while (this.isRunning) {
      if ((await this.health()) === 200) return;
      await sleep(50);
    }
    throw new Error(`The service ended with ${String(this.process.exitCode)}:\n${this.output}`);
  }

  /** The status of the health page; 0 when nothing listens. */
  async health(): Promise<number> {
    return fetch(`${this.url}/api/health`).then(
      ({ status }) => status,
      () => 0,
    );
  }

  /** Waits for the end and returns the exit code. */
  async ended(): Promise<number | null> {
    if (this.isRunning) await once(this.process, 'exit');
    return this.process.exitCode;
  }

  async stop(): Promise<number | null> {
    this.process.kill('SIGTERM');
    return this.ended();
  }

  /** Kills the process and all that came from it, the service first. */
  async killTree(): Promise<void> {
    const tree = descendants(this.pid);
    for (const { pid } of [this, ...tree]) signal(pid, 'SIGKILL');
    await this.ended();
  }
}

/** The database servers that run on a data folder. */
export function databaseServers(dataDir: string): number[] {
  const entry = path.join(dataDir, 'database');
  if (!existsSync(entry)) return [];
  const cluster = path.join(realpathSync(entry), 'cluster');
  return processes()
    .filter(({ command }) => command.includes(`-D ${cluster}`))
    .map(({ pid }) => pid);
}

/** Waits until something is so; the test's own time limit ends it. */
export async function until(condition: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await condition())) await sleep(50);
}
