import path from 'node:path';
import { defineConfig } from 'vite';
import { shippedPackages } from '../../deploy/shipped-packages.mjs';

const source = (file: string) => path.join(import.meta.dirname, 'src', file);

/** What can be run: the service, the demo, the commands, and the thread that measures meshes. */
const entries = {
  server: source('process/server.ts'),
  demo: source('process/demo.ts'),
  command: source('process/command.ts'),
  'measure-worker': source('catalog/parts/measure-worker.ts'),
};

/**
 * The API as a few plain files for Node: our own packages inside, those of others from node_modules. The client of the
 * database is inside too: as a package it would bring its command line and its engines for other databases along.
 */
export default defineConfig({
  root: import.meta.dirname,
  plugins: [shippedPackages(import.meta.dirname)],
  ssr: { noExternal: [/^@huelot\//, /^@prisma\//, 'postgres-array'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'build',
    rolldownOptions: {
      input: entries,
      output: { entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
    },
  },
});
