import './node-version.mjs';

const { readOptions } = await import('./arguments.mjs');
readOptions({ usage: 'npm run build\n\nInstalls and builds whatever is not up to date.', allowed: [] });

const { orSay, prepare } = await import('./prepare.mjs');
await orSay(prepare);
