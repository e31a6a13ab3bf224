import { existsSync } from 'node:fs';
import path from 'node:path';
import { defineConfig } from 'vite';

const source = (file: string) => path.join(import.meta.dirname, 'src', file);

/** What can be run: the service, the demo, the commands, and the thread that measures meshes. */
const entries = {
  server: source('server.ts'),
  demo: source('demo.ts'),
  command: source('command.ts'),
  'measure-worker': source('domains/parts/measure-worker.ts'),
};

/** The API as a few plain files for Node: our own packages inside, those of others from node_modules. */
export default defineConfig({
  root: import.meta.dirname,
  ssr: { noExternal: [/^@huelot\//] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'build',
    rolldownOptions: {
      input: Object.fromEntries(Object.entries(entries).filter(([, file]) => existsSync(file))),
      output: { entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
    },
  },
});
