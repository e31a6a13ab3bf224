import { startEmbedded } from './index.ts';
import { openPlace } from './paths.ts';
import { runningServer } from './postmaster.ts';
import { connectionString } from './start.ts';

/**
 * Lets a command work in the embedded database of a data folder: in the server that a running Huelot has there,
 * which goes on, else in one of its own for that long.
 */
export async function withEmbedded<T>(
  dataDir: string,
  work: (connectionString: string) => Promise<T>,
): Promise<T> {
  const place = openPlace(dataDir);
  const running = runningServer(place.cluster);
  if (running !== null) return work(connectionString(place, running.port));
  const embedded = await startEmbedded({ dataDir });
  try {
    return await work(embedded.connectionString);
  } finally {
    await embedded.stop();
  }
}
