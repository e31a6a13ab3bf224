import { execFile, spawn, type ChildProcess } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { closeSync, existsSync, openSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { promisify } from 'node:util';
import pg from 'pg';
import type { Binaries } from './binaries.ts';
import { chownTo, type Place } from './paths.ts';
import { stopServer, spawnWatchdog } from './postmaster.ts';
import { provideServiceRole, serviceRole } from '../roles.ts';

const databaseName = 'huelot';
const host = '127.0.0.1';
const MAX_ATTEMPTS = 20;

/** Makes the data directory, once; a start that is cut off in the middle leaves nothing that looks finished. */
export async function initialise(place: Place, { initdb, major }: Binaries): Promise<void> {
  if (existsSync(place.cluster)) {
    const made = Number(readFileSync(`${place.cluster}/PG_VERSION`, 'utf8'));
    if (made === major) return;
    throw new Error(
      made > major
        ? `${place.home} was made by PostgreSQL ${made}, newer than the ${major} in this Huelot. Start the newer Huelot that made it.`
        : `${place.home} was made by PostgreSQL ${made} and this Huelot brings ${major}. Make a backup with the Huelot that made it, ` +
            'then restore it into a new data folder.',
    );
  }
  const partial = `${place.cluster}.partial`;
  rmSync(partial, { recursive: true, force: true });
  writeFileSync(place.password, randomBytes(24).toString('base64url'), { mode: 0o600 });
  chownTo(place.password, place.account);
  const options = [
    ...['--username', databaseName, '--pwfile', place.password, '--auth', 'scram-sha-256'],
    ...['--encoding', 'UTF8', '--locale', 'C', '--locale-provider', 'icu', '--icu-locale', 'und'],
  ];
  await promisify(execFile)(initdb, ['-D', partial, ...options], {
    ...place.account,
    cwd: '/',
    env: environment,
  });
  renameSync(partial, place.cluster);
}

/** Nothing of our own environment reaches the server. */
const environment = { LC_ALL: 'C', TZ: 'UTC' };

export interface Running {
  child: ChildProcess;
  watcher: ChildProcess;
  port: number;
}

export interface Installation {
  place: Place;
  binaries: Binaries;
  /** `false` only for tests: a power cut may then cost data. */
  durable: boolean;
}

/** Starts the server and waits until it answers. Without `port` it takes a free one. */
export async function launch(installation: Installation, port?: number): Promise<Running> {
  const { place } = installation;
  for (let attempt = 1; ; attempt += 1) {
    const running = spawnServer(installation, port ?? (await freePort()));
    try {
      if (await answers(running, place)) return running;
    } catch (error) {
      await end(running);
      throw error;
    }
    running.watcher.kill('SIGKILL');
    const words = logTail(place);
    // Another process took the port first, or the last server's own processes are not quite gone.
    const passes =
      /Address already in use|shared memory block .* is still in use|lock file .* already exists/.test(words);
    if (!passes || attempt === MAX_ATTEMPTS) throw new Error(`The database server did not start.\n${words}`);
    await sleep(250);
  }
}

/** Stops the server in an orderly way. */
export async function end({ child, watcher }: Running): Promise<void> {
  const isGone = () => child.exitCode !== null || child.signalCode !== null || child.pid === undefined;
  if (!isGone()) await stopServer(child.pid ?? 0, { isGone });
  watcher.kill('SIGKILL');
}

function spawnServer({ place, binaries, durable }: Installation, port: number): Running {
  const settings: Record<string, string | number> = {
    listen_addresses: host,
    port,
    unix_socket_directories: '',
    max_connections: 100,
    timezone: 'UTC',
    log_timezone: 'UTC',
    log_min_messages: 'log',
    log_checkpoints: 'off',
    ...(durable
      ? {}
      : { fsync: 'off', synchronous_commit: 'off', full_page_writes: 'off', max_connections: 300 }),
  };
  const log = openSync(place.log, 'w', 0o600);
  chownTo(place.log, place.account);
  const child = spawn(
    binaries.postgres,
    ['-D', place.cluster, ...Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`])],
    { ...place.account, cwd: '/', env: environment, detached: true, stdio: ['ignore', log, log] },
  );
  closeSync(log);
  child.on('error', () => undefined); // Shows as a server that did not start.
  return { child, port, watcher: spawnWatchdog(child.pid, place) };
}

/** Waits for the first answer, as long as the server lives: after a crash it may have much to read first. */
async function answers({ child, port }: Running, place: Place): Promise<boolean> {
  while (child.exitCode === null && child.signalCode === null && child.pid !== undefined) {
    const client = new pg.Client({ connectionString: connectionString(place, port, 'postgres') });
    client.on('error', () => undefined);
    try {
      await client.connect();
      const { rowCount } = await client.query('select from pg_database where datname = $1', [databaseName]);
      if (rowCount === 0) await client.query(`create database ${databaseName}`);
      return true;
    } catch (error) {
      const { code } = error as { code?: string };
      const notYet = code === 'ECONNREFUSED' || code === 'ECONNRESET' || code === '57P03';
      if (!notYet) throw error;
      await sleep(50);
    } finally {
      await client.end().catch(() => undefined);
    }
  }
  return false;
}

/** Makes the role that the service works as, which owns nothing; returns how it connects. */
export async function provideService(place: Place, port: number): Promise<string> {
  if (!existsSync(place.servicePassword)) {
    writeFileSync(place.servicePassword, randomBytes(24).toString('base64url'), { mode: 0o600 });
    chownTo(place.servicePassword, place.account);
  }
  const password = readFileSync(place.servicePassword, 'utf8');
  await provideServiceRole(connectionString(place, port), password);
  return `postgresql://${serviceRole}:${password}@${host}:${port}/${databaseName}`;
}

export function connectionString(place: Place, port: number, database = databaseName): string {
  const password = readFileSync(place.password, 'utf8');
  return `postgresql://${databaseName}:${password}@${host}:${port}/${database}`;
}

function logTail(place: Place): string {
  return readFileSync(place.log, 'utf8').trim().split('\n').slice(-12).join('\n');
}

/** Whether the server that ran last said that its disk is full. */
export const foundDiskFull = ({ log }: Place): boolean =>
  /No space left on device/.test(readFileSync(log, 'utf8').slice(-8_000));

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, host, resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}
