import { configDefaults, defineConfig } from 'vitest/config';
import { leftOut } from './tests/support/nightly.ts';

/** Test files share the modules they import; none leaves anything behind in them. That halves the time of the unit tests. */
const isolate = false;

const exclude = [...configDefaults.exclude, ...leftOut];

export default defineConfig({
  test: {
    // Tests wait for PostgreSQL and browsers as much as they compute: every processor gets a worker.
    maxWorkers: '100%',
    projects: [
      'apps/web/vitest.config.ts',
      { test: { name: 'calc', isolate, exclude, include: ['packages/calc/**/*.test.ts'] } },
      { test: { name: 'contracts', isolate, include: ['packages/contracts/**/*.test.ts'] } },
      { test: { name: 'docs', include: ['tests/docs/**/*.test.ts'], testTimeout: 30_000 } },
      {
        test: {
          name: 'api',
          isolate,
          exclude,
          include: ['apps/api/**/*.test.ts', 'tests/api/**/*.test.ts'],
          globalSetup: ['tests/support/database-global.ts'],
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'faults',
          exclude,
          include: ['tests/faults/**/*.test.ts'],
          globalSetup: ['tests/support/built-global.ts'],
          testTimeout: 240_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'journeys',
          isolate,
          exclude,
          include: ['tests/journeys/**/*.test.ts'],
          setupFiles: ['tests/support/keep-pictures.ts'],
          globalSetup: [
            'tests/support/built-global.ts',
            'tests/support/database-global.ts',
            'tests/support/shop-global.ts',
          ],
          testTimeout: 240_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
