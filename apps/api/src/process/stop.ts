/** npm passes on a Ctrl-C that the terminal has sent us already; only a later signal means impatience. */
const DEBOUNCE_MS = 1_000;

/** Aborts when somebody asks the process to stop; whoever asks again gets it at once, without ceremony. */
export function onStopSignal(): AbortSignal {
  const stop = new AbortController();
  let askedAt = 0;
  for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) {
    process.on(signal, () => {
      if (askedAt === 0) {
        askedAt = Date.now();
        console.log('\nStopping; requests in flight are finished first.');
        stop.abort();
      } else if (Date.now() - askedAt > DEBOUNCE_MS) {
        process.exit(1); // An embedded database notices, and stops by itself.
      }
    });
  }
  return stop.signal;
}
