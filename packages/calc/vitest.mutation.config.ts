import { defineConfig } from 'vitest/config';

/**
 * The tests that judge a mutant: those of the calculations, without the examples and pages made from the whole package, and without
 * the hundreds of simulated ladders, which take fifteen seconds a mutant.
 */
export default defineConfig({
  test: {
    include: ['packages/calc/src/**/*.test.ts'],
    exclude: [
      'packages/calc/src/examples.test.ts',
      'packages/calc/src/optics/growth/ladder-recovery.test.ts',
    ],
  },
});
