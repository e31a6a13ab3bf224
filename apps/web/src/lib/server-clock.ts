const STORAGE_KEY = 'huelot.serverClock';

/** By how much the clock of this screen is ahead of the server's, in ms; kept for when the network is down. */
let aheadMs = Number(typeof localStorage === 'undefined' ? 0 : (localStorage.getItem(STORAGE_KEY) ?? 0)) || 0;

/** Takes the server's time from the `date` of an answer that came just now. It is whole seconds, so less is nothing. */
export function learnServerTime(date: string | null): void {
  const server = Date.parse(date ?? '');
  if (Number.isNaN(server)) return;
  const ahead = Date.now() - server;
  aheadMs = Math.abs(ahead) < 2000 ? 0 : ahead;
  if (typeof localStorage !== 'undefined') localStorage.setItem(STORAGE_KEY, String(aheadMs));
}

/**
 * Now by the clock of the server, in ms: a tablet whose clock is wrong shows the same time as the others.
 *
 * @example
 * const elapsedS = Math.floor((serverNow() - Date.parse(run.inAt)) / 1000);
 */
export const serverNow = (): number => Date.now() - aheadMs;
