import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineProject } from 'vitest/config';

const pathOf = (file: string) => fileURLToPath(new URL(file, import.meta.url));

export default defineProject({
  plugins: [svelte()],
  resolve: {
    alias: {
      $lib: pathOf('./src/lib'),
      '$app/state': pathOf('./src/test/app-state.ts'),
      '$app/navigation': pathOf('./src/test/app-navigation.ts'),
    },
    conditions: ['browser'],
  },
  test: {
    name: 'web',
    isolate: false,
    include: ['**/*.test.ts'],
    // It holds runes, which the Svelte plugin compiles.
    server: { deps: { inline: [/@testing-library\/svelte/] } },
  },
});
