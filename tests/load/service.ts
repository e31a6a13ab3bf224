import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer, type AddressInfo } from 'node:net';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

export const checkout = path.resolve(import.meta.dirname, '../..');

export interface Started {
  pid: number;
  url: string;
  /** From the command to the first page. */
  seconds: number;
  stop: () => Promise<void>;
}

/** A command that serves Huelot, waited for until its first page comes. */
export async function startCommand({
  command,
  folder,
  env,
}: {
  command: [program: string, ...args: string[]];
  folder: string;
  env: Record<string, string>;
}): Promise<Started> {
  const port = await freePort();
  const [program, ...args] = command;
  const began = performance.now();
  const child = spawn(program, args, {
    cwd: folder,
    env: { ...process.env, HUELOT_PORT: String(port), ...env },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const url = `http://localhost:${port}`;
  while (!(await isServed(url))) {
    if (child.exitCode !== null) throw new Error(`${command.join(' ')} ended with ${child.exitCode}`);
    await sleep(20);
  }
  return {
    pid: child.pid ?? NaN,
    url,
    seconds: (performance.now() - began) / 1000,
    stop: async () => {
      child.kill('SIGTERM');
      if (child.exitCode === null) await once(child, 'exit');
    },
  };
}

/** The built service alone. */
export const startService = (env: Record<string, string>): Promise<Started> =>
  startCommand({
    command: [process.execPath, path.join(checkout, 'apps/api/build/server.js')],
    folder: checkout,
    env: { NODE_ENV: 'production', ...env },
  });

const isServed = (url: string) =>
  fetch(url).then(
    ({ ok }) => ok,
    () => false,
  );

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}
