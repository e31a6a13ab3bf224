import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { findBinaries } from './binaries.ts';
import { acquireLock } from './lock.ts';
import { openPlace } from './paths.ts';
import { stopOrphan } from './postmaster.ts';
import { keepAlive } from './keep-alive.ts';
import { connectionString, end, initialise, launch, provideService } from './start.ts';

export interface EmbeddedOptions {
  dataDir: string;
  log?: (line: string) => void;
  /** `false` only for tests: faster, and a power cut may cost data. */
  durable?: boolean;
  /** Called when the server is lost and cannot be brought back. */
  onLost?: (reason: Error) => void;
}

export interface EmbeddedDatabase {
  /** As the owner of the tables, who is a superuser. */
  connectionString: string;
  /** As the role that the service works as. */
  serviceConnectionString: string;
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
  const owned = await acquireLock(place.home);
  try {
    const binaries = findBinaries(place.account, place.shelf);
    await stopOrphan(place, log);
    await initialise(place, binaries);
    const installation = { place, binaries, durable };
    const running = await launch(installation);
    const serviceConnectionString = await provideService(place, running.port).catch(
      async (error: unknown) => {
        await end(running);
        throw error;
      },
    );
    const stop = keepAlive({ installation, running, log, onLost });
    return {
      connectionString: connectionString(place, running.port),
      serviceConnectionString,
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
  const owned = await acquireLock(place.home);
  await stopOrphan(place, () => undefined);
  rmSync(place.home, { recursive: true });
  rmSync(entry, { force: true });
  owned.release();
}
