/**
 * Seconds a call takes: the best tenth of many batches after a warm-up, so that neither other work on the machine nor a
 * single lucky batch counts.
 */
export function secondsPerCall(call: () => unknown, forSeconds = 1): number {
  const warmUntil = performance.now() + 300;
  while (performance.now() < warmUntil) call();
  const batch = Math.max(1, Math.ceil(5 / timeOf(call, 1)));
  const batches: number[] = [];
  const until = performance.now() + 1000 * forSeconds;
  do batches.push(timeOf(call, batch) / batch);
  while (performance.now() < until);
  const bestTenth = batches.sort((a, b) => a - b)[Math.floor(batches.length / 10)] ?? NaN;
  return bestTenth / 1000;
}

/** Milliseconds for so many calls. */
function timeOf(call: () => unknown, calls: number): number {
  const start = performance.now();
  for (let i = 0; i < calls; i++) call();
  return Math.max(performance.now() - start, 1e-4);
}
