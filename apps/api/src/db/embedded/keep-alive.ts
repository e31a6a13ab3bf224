import { setTimeout as sleep } from 'node:timers/promises';
import { end, foundDiskFull, launch, type Installation, type Running } from './start.ts';

/** How many times the server may die within {@link WINDOW_MS} before it is given up. */
const MAX_DEATHS = 5;
const WINDOW_MS = 60_000;
/** How long between two tries to start where the disk is full. */
const ROOM_MS = 2_000;

/**
 * Starts the server again, on the same port, whenever it dies; returns how to stop it for good. A full disk is no
 * reason to give up: it takes somebody to make room, and until then the service can say what is the matter.
 */
export function keepAlive(server: {
  installation: Installation;
  running: Running;
  log: (line: string) => void;
  onLost: (reason: Error) => void;
}): () => Promise<void> {
  const { installation, log, onLost } = server;
  const { place } = installation;
  const stop = new AbortController();
  let current: Promise<Running | null> = Promise.resolve(server.running);
  let deaths: number[] = [];
  let toldOfRoom = false;

  const watch = ({ child, watcher, port }: Running) => {
    child.once('exit', () => {
      watcher.kill('SIGKILL');
      if (stop.signal.aborted) return;
      current = revive(port);
      current.then((running) => running !== null && watch(running), onLost);
    });
  };

  async function revive(port: number): Promise<Running | null> {
    if (!foundDiskFull(place)) {
      const now = Date.now();
      deaths = [...deaths.filter((time) => time > now - WINDOW_MS), now];
      if (deaths.length > MAX_DEATHS) {
        throw new Error(`The database server died ${deaths.length} times in a minute; see ${place.log}.`);
      }
      log('The database server stopped by itself; starting it again.');
      toldOfRoom = false;
    }
    for (;;) {
      if (foundDiskFull(place)) await waitForRoom();
      if (stop.signal.aborted) return null;
      try {
        return await launch(installation, port);
      } catch (error) {
        if (!foundDiskFull(place)) throw error;
      }
    }
  }

  async function waitForRoom(): Promise<void> {
    if (!toldOfRoom) {
      log(
        `The database stopped because the disk is full. Make room for ${place.home}; it is started again by itself.`,
      );
    }
    toldOfRoom = true;
    await sleep(ROOM_MS, undefined, { signal: stop.signal }).catch(() => undefined);
  }

  watch(server.running);
  return async () => {
    stop.abort();
    const running = await current.catch(() => null);
    if (running !== null) await end(running);
  };
}
