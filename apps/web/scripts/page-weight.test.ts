import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { pageWeights } from './page-weight.ts';

/** Above the aim of 150 kB: the schemas of every new room weigh on the pages of the old ones. */
const MAX_BYTES = 192_000;
/** The bench reckons film colours as somebody types: it carries the optical constants of every film. */
const MAX_BENCH_BYTES = 215_000;
const maxOf = (route: string) => (/^\/(calibrations|colour-bench)/.test(route) ? MAX_BENCH_BYTES : MAX_BYTES);

// Reads what the last build left: run `npm run build -w @huelot/web` first.
const weights = pageWeights();

it('weighs every page there is', () => {
  const pages = readdirSync(new URL('../src/routes', import.meta.url), { recursive: true, encoding: 'utf8' });
  expect(weights.length).toBe(
    pages
      .filter((file) => /\+page(\.svelte|\.ts)$/.test(file))
      .map(folder)
      .filter(first).length,
  );
});

it.each(weights)('$route ships no more compressed script than it may', ({ route, bytes }) => {
  // Below the weight of Svelte itself, the sum would be missing something.
  expect(bytes).toBeGreaterThan(20_000);
  expect(bytes).toBeLessThanOrEqual(maxOf(route));
});

const folder = (file: string) => file.slice(0, file.lastIndexOf('+page'));
const first = (one: string, at: number, all: string[]) => all.indexOf(one) === at;
