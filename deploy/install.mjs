import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { root, runQuietly, step } from './run-quietly.mjs';

/** Brings node_modules to what the lockfile names, if it is not there already. */
export async function install() {
  if (isInstalled()) return;
  await step('Installing the packages Huelot is built from', () =>
    // No package may run scripts of its own here: one would download an engine that Huelot does not use.
    runQuietly(npmProgram(), { args: ['ci', '--ignore-scripts', '--no-audit', '--no-fund'] }),
  );
}

/** npm keeps a list of what it installed; it must hold every package of the lockfile that suits every system. */
function isInstalled() {
  const installed = path.join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(installed)) return false;
  const present = read(installed);
  return Object.entries(read(path.join(root, 'package-lock.json')))
    .filter(([place, { link, optional }]) => place.includes('node_modules/') && !link && !optional)
    .every(([place, { version }]) => present[place]?.version === version);
}

const read = (file) => JSON.parse(readFileSync(file, 'utf8')).packages;

/** The npm that runs us, else the one that came with Node. */
function npmProgram() {
  const besideNode = ['../lib/node_modules/npm/bin/npm-cli.js', 'node_modules/npm/bin/npm-cli.js'];
  const found = [
    process.env.npm_execpath ?? '',
    ...besideNode.map((file) => path.resolve(path.dirname(process.execPath), file)),
  ].find((file) => path.basename(file) === 'npm-cli.js' && existsSync(file));
  if (found === undefined)
    throw new Error('npm was not found. Start Huelot through npm: npm start, npm run demo.');
  return found;
}
