/**
 * Proofs that are slow and seldom say anything new: `npm run test:nightly` runs them with all others, `npm test` leaves them out.
 * A change of what one of them proves runs it by its name: `HUELOT_NIGHTLY=yes npx vitest run path/to/file`.
 */
export const nightlyFiles: readonly string[] = [
  // What journeys prove again that tests of the API and of components prove already, by hand in a browser.
  'tests/journeys/addition-examples.test.ts',
  'tests/journeys/titration-examples.test.ts',
  'tests/journeys/bench-at-two-sizes.test.ts',
  'tests/journeys/bath-life.test.ts',
  'tests/journeys/bath-chart.test.ts',
  'tests/journeys/two-at-a-bath.test.ts',
  'tests/journeys/chain.test.ts',
  'tests/journeys/coupons.test.ts',
  'tests/journeys/desk-day.test.ts',
  // Minutes of load for one answer; kills, stops and two services on one database stay in every run.
  'tests/faults/under-load.test.ts',
  'tests/faults/backup-under-load.test.ts',
  'tests/faults/malformed.test.ts',
  'tests/faults/disk-full.test.ts',
  'tests/faults/builds.test.ts',
  // The whole invented shop, read twice.
  'tests/api/reading-changes-nothing.test.ts',
  // Five hundred simulated ladders of coupons.
  'packages/calc/src/optics/growth/series-recovery.test.ts',
];

/** Whether this run is the nightly one. */
export const isNightly = process.env['HUELOT_NIGHTLY'] === 'yes' || process.env['HUELOT_BENCH'] !== undefined;

/** What this run leaves out. */
export const leftOut: readonly string[] = isNightly ? [] : nightlyFiles;
