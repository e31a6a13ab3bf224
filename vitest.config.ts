import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
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
    ],
  },
});
