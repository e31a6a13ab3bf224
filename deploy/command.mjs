import './node-version.mjs';

// Backup, restore, recover, verify and the like, from a checkout: brings the build up to date first.
const { orSay, prepare } = await import('./prepare.mjs');
await orSay(prepare);
await import('../apps/api/build/command.js');
