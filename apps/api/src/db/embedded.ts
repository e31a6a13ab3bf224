import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { findBinaries } from './embedded-binaries.ts';
import { claim } from './embedded-owner.ts';
import { openPlace } from './embedded-place.ts';
import { stopAbandoned } from './embedded-postmaster.ts';
import {
  connectionString,
  end,
  initialise,
  launch,
  type Installation,
  type Running,
} from './embedded-start.ts';

export interface EmbeddedOptions {
  dataDir: string;
  log?: (line: string) => void;
  /** `false` only for tests: faster, and a power cut may cost data. */
  durable?: boolean;
  /** Called when the server is lost and cannot be brought back. */
  onLost?: (reason: Error) => void;
}

export interface EmbeddedDatabase {
  connectionString: string;
  /** Where the data really lies. */
  home: string;
  stop(): Promise<void>;
}

/**
 * Starts a real PostgreSQL of our own in `dataDir`, on a free port that only this machine reaches. It ends with this
 * process, is started again if it dies, and recovers what was left by a crash.
 *
 * @example
 * const embedded = await startEmbedded({ dataDir: '.huelot/shop' });
 * const db = openDatabase({ connectionString: embedded.connectionString });
 */
export async function startEmbedded(options: EmbeddedOptions): Promise<EmbeddedDatabase> {
  const { dataDir, durable = true, log = () => undefined, onLost = () => undefined } = options;
  const place = openPlace(dataDir);
  const owned = await claim(place.home);
  try {
    const binaries = findBinaries(place.account, place.shelf);
    await stopAbandoned(place, log);
    await initialise(place, binaries);
    const installation = { place, binaries, durable };
    const running = await launch(installation);
    const stop = keepAlive({ installation, running, log, onLost });
    return {
      connectionString: connectionString(place, running.port),
      home: place.home,
      stop: async () => {
        await stop();
        owned.release();
      },
    };
  } catch (error) {
    owned.release();
    throw error;
  }
}

/** Throws the embedded database of a data folder away, all of it; refuses while a process uses it. */
export async function removeEmbedded(dataDir: string): Promise<void> {
  const entry = path.join(dataDir, 'database');
  if (!existsSync(entry)) return rmSync(entry, { force: true }); // At most a link to nothing.
  const place = openPlace(dataDir);
  const owned = await claim(place.home);
  await stopAbandoned(place, () => undefined);
  rmSync(place.home, { recursive: true });
  rmSync(entry, { force: true });
  owned.release();
}

/** How many times the server may die within {@link WINDOW_MS} before it is given up. */
const MAX_DEATHS = 5;
const WINDOW_MS = 60_000;

/** Starts the server again, on the same port, whenever it dies; returns how to stop it for good. */
function keepAlive(server: {
  installation: Installation;
  running: Running;
  log: (line: string) => void;
  onLost: (reason: Error) => void;
}): () => Promise<void> {
  const { installation, log, onLost } = server;
  let current = Promise.resolve(server.running);
  let stopping = false;
  let deaths: number[] = [];

  const watch = ({ child, watcher, port }: Running) => {
    child.once('exit', () => {
      watcher.kill('SIGKILL');
      if (!stopping) revive(port);
    });
  };
  const revive = (port: number) => {
    const now = Date.now();
    deaths = [...deaths.filter((at) => at > now - WINDOW_MS), now];
    if (deaths.length > MAX_DEATHS) {
      onLost(
        new Error(
          `The database server died ${deaths.length} times in a minute; see ${installation.place.log}.`,
        ),
      );
      return;
    }
    log('The database server stopped by itself; starting it again.');
    current = launch(installation, port);
    current.then(watch, onLost);
  };

  watch(server.running);
  return async () => {
    stopping = true;
    await current.then(end, () => undefined);
  };
}
