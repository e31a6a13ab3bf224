import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import './node-version.mjs';

const { readOptions } = await import('./arguments.mjs');
readOptions({
  usage: `npm run notices

Writes THIRD_PARTY_NOTICES.txt: what others made and Huelot ships, with their licences. Run it when a package was added,
removed or renewed; a test says so.`,
  allowed: [],
});

const { orSay, prepare } = await import('./prepare.mjs');
await orSay(prepare);
const { root } = await import('./run-quietly.mjs');
const { noticesFile, thirdPartyNotices } = await import('./third-party.mjs');
const builds = ['apps/api/build', 'apps/web/.svelte-kit/output/client'];
const builtIn = builds.flatMap((build) =>
  JSON.parse(readFileSync(path.join(root, build, '.vite/packages.json'), 'utf8')),
);
writeFileSync(noticesFile, thirdPartyNotices(builtIn));
