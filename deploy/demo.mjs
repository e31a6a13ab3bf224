import './node-version.mjs';

const { readOptions } = await import('./arguments.mjs');
const options = readOptions({
  usage: `npm run demo [-- --reset]

Installs and builds whatever is not up to date, then serves an invented shop to try things in until Ctrl-C.
What is entered is kept in .huelot/demo and is there the next time.

  --reset   throw that away and start over`,
  allowed: ['--reset'],
});

const { orSay, prepare } = await import('./prepare.mjs');
await orSay(prepare);
const { endWithNpm } = await import('./end-with-npm.mjs');
endWithNpm();
process.env.NODE_ENV ??= 'production';
const { demo } = await import('../apps/api/build/demo.js');
await demo({ reset: options.has('--reset') });
