import './node-version.mjs';

const { readOptions } = await import('./arguments.mjs');
readOptions({
  usage: `npm start

Installs and builds whatever is not up to date, then serves Huelot until Ctrl-C.
The record is kept in .huelot/shop unless HUELOT_DATA_DIR or DATABASE_URL names another place.
Settings are described in docs/operations.md.`,
  allowed: [],
});

const { orSay, prepare } = await import('./prepare.mjs');
await orSay(prepare);
const { endWithNpm } = await import('./end-with-npm.mjs');
endWithNpm();
process.env.NODE_ENV ??= 'production';
await import('../apps/api/build/server.js');
