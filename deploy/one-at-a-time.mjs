/** A process that was killed says so no more; after this long without its sign the next one takes over. */
const STALE_MS = 5_000;
const ASK_MS = 250;

/**
 * Does the work while no other process does any at the same place; whoever comes meanwhile waits. Two builds into one folder
 * would leave the page of one beside the scripts of the other, which its security policy then refuses.
 */
export async function oneAtATime(place, work) {
  // Comes with the packages, which may only just have been installed.
  const { lock } = await import('proper-lockfile');
  const release = await lock(place, {
    realpath: false,
    stale: STALE_MS,
    retries: { forever: true, factor: 1, minTimeout: ASK_MS, maxTimeout: ASK_MS },
  });
  try {
    await work();
  } finally {
    await release();
  }
}
