import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { install } from './install.mjs';
import { oneAtATime } from './one-at-a-time.mjs';
import { inPackages, root, runQuietly, step } from './run-quietly.mjs';

const everywhere = [
  'package.json',
  'package-lock.json',
  'packages/calc',
  'packages/contracts',
  'deploy/shipped-packages.mjs',
];

/** What is made, from what, and how. */
const products = {
  client: {
    title: 'Generating the database client',
    inputs: ['package-lock.json', 'prisma.config.ts', 'prisma/schema'],
    output: 'apps/api/src/generated/client.ts',
    make: () =>
      runQuietly('node_modules/prisma/build/index.js', {
        args: ['generate'],
        env: {
          // Generating needs no engine, but looks for one and downloads it unless this names a file.
          PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
          PRISMA_HIDE_UPDATE_MESSAGE: '1',
          CHECKPOINT_DISABLE: '1',
        },
      }),
  },
  api: {
    title: 'Building the API',
    inputs: [...everywhere, 'prisma', 'apps/api/package.json', 'apps/api/vite.config.ts', 'apps/api/src'],
    output: 'apps/api/build/server.js',
    make: () => viteBuild('apps/api'),
  },
  web: {
    title: 'Building the web app',
    inputs: [...everywhere, 'apps/web'],
    output: 'apps/web/build/index.html',
    make: () => viteBuild('apps/web'),
  },
};

/** Makes whatever is missing or older than its sources: packages, database client, API and web app. */
export async function prepare() {
  await prepareClient();
  await bringUpToDate(products.api);
  await bringUpToDate(products.web);
}

/** As far as type checks and tests need it: packages and the database client. */
export async function prepareClient() {
  await install();
  await bringUpToDate(products.client);
}

/** Does the work, or says why not and ends. */
export async function orSay(work) {
  try {
    await work();
  } catch (error) {
    console.error(error.message);
    process.exit(1);
  }
}

const stamps = path.join(root, 'node_modules', '.cache', 'huelot');
const stampOf = ({ output }) => path.join(stamps, output.replaceAll('/', '-'));

async function bringUpToDate(product) {
  if (isMadeFrom(product, fingerprint(product.inputs))) return;
  mkdirSync(stamps, { recursive: true });
  await oneAtATime(path.join(stamps, 'build'), async () => {
    // Whoever was before us may have made it.
    const now = fingerprint(product.inputs);
    if (isMadeFrom(product, now)) return;
    rmSync(stampOf(product), { force: true });
    await step(product.title, product.make);
    writeFileSync(stampOf(product), now);
  });
}

function isMadeFrom(product, sources) {
  const stamp = stampOf(product);
  return (
    existsSync(path.join(root, product.output)) &&
    existsSync(stamp) &&
    readFileSync(stamp, 'utf8') === sources
  );
}

const viteBuild = (workspace) =>
  runQuietly(inPackages(workspace, 'vite/bin/vite.js'), {
    args: ['build'],
    folder: path.join(root, workspace),
  });

const notSources = new Set(['node_modules', 'build', 'generated', '.svelte-kit', 'reference', 'bench']);

function fingerprint(inputs) {
  const hash = createHash('sha256').update(process.versions.node);
  for (const file of inputs.flatMap((input) => filesBelow(input))) {
    hash
      .update(`${file}\0`)
      .update(readFileSync(path.join(root, file)))
      .update('\0');
  }
  return hash.digest('hex');
}

function filesBelow(entry) {
  if (!statSync(path.join(root, entry)).isDirectory()) return [entry];
  return readdirSync(path.join(root, entry), { withFileTypes: true })
    .filter(({ name }) => !notSources.has(name) && !name.endsWith('.test.ts'))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap(({ name }) => filesBelow(`${entry}/${name}`));
}
