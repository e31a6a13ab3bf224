import path from 'node:path';
import { inPackages, root, runQuietly } from '../../deploy/run-quietly.mjs';

/** svelte-check over the web app, after SvelteKit has written the types that its pages import. */
const folder = path.join(root, 'apps/web');
try {
  await runQuietly(inPackages('apps/web', '@sveltejs/kit/svelte-kit.js'), { args: ['sync'], folder });
  await runQuietly(inPackages('apps/web', 'svelte-check/bin/svelte-check'), {
    args: ['--fail-on-warnings', '--output', 'human'],
    folder,
  });
} catch (error) {
  console.error(error.message);
  process.exit(1);
}
