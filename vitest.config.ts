import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      'apps/web/vitest.config.ts',
      { test: { name: 'calc', include: ['packages/calc/**/*.test.ts'] } },
      { test: { name: 'contracts', include: ['packages/contracts/**/*.test.ts'] } },
      {
        test: {
          name: 'api',
          include: ['apps/api/**/*.test.ts', 'tests/api/**/*.test.ts'],
          globalSetup: ['tests/support/database-global.ts'],
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'faults',
          include: ['tests/faults/**/*.test.ts'],
          globalSetup: ['tests/support/built-global.ts'],
          testTimeout: 240_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'journeys',
          include: ['tests/journeys/**/*.test.ts'],
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
