/**
 * How much a bench does, from the environment: `npm run bench:faults` sets it high, `npm test` leaves it short. The same
 * seed does the same things in the same order, as far as what waits for a disk or a network can.
 */
export const benchSize = {
  serviceKills: count('HUELOT_BENCH_SERVICE_KILLS', 3),
  databaseMishaps: count('HUELOT_BENCH_DATABASE_MISHAPS', 5),
  malformedRequests: count('HUELOT_BENCH_MALFORMED', 600),
  seed: count('HUELOT_BENCH_SEED', 4070),
};

function count(name: string, unlessSet: number): number {
  const value = Number(process.env[name] ?? unlessSet);
  if (!Number.isInteger(value) || value < 1) throw new Error(`${name} must be a whole number from 1 on.`);
  return value;
}

/** Chance that comes out the same for the same seed (xorshift32). */
export function chance(seed: number): () => number {
  let state = seed | 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.floor(sorted.length / 2)] ?? NaN;
}

/** Prints figures where somebody measures, and not among tests. */
export function tell(title: string, figures: Record<string, number | string>): void {
  if (process.env['HUELOT_BENCH'] === undefined) return;
  const lines = Object.entries(figures).map(([name, figure]) => `  ${name.padEnd(52)} ${figure}`);
  console.log([title, ...lines].join('\n'));
}
