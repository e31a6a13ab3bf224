import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { stripVTControlCharacters } from 'node:util';

export const root = path.resolve(import.meta.dirname, '..');

/** Runs a Node program below the checkout and keeps what it says to itself, unless it fails. */
export async function runQuietly(program, { args = [], folder = root, env = {} } = {}) {
  const child = spawn(process.execPath, [program, ...args], {
    cwd: folder,
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const words = [];
  child.stdout.on('data', (chunk) => words.push(chunk));
  child.stderr.on('data', (chunk) => words.push(chunk));
  const code = await new Promise((resolve, reject) => child.on('error', reject).on('close', resolve));
  if (code !== 0) throw new Error(plain(Buffer.concat(words)) || `${program} ended with ${code}`);
}

const plain = (words) => stripVTControlCharacters(words.toString()).trim();

/** Tells what takes a while, and how long it took. */
export async function step(title, work) {
  const began = Date.now();
  process.stdout.write(`${title} ... `);
  try {
    await work();
  } catch (error) {
    console.log('failed\n');
    throw error;
  }
  console.log(`${((Date.now() - began) / 1000).toFixed(1)} s`);
}

/** A file of a package, which npm puts beside the workspace or above it. */
export function inPackages(workspace, file) {
  const beside = path.join(root, workspace, 'node_modules', file);
  return existsSync(beside) ? beside : path.join(root, 'node_modules', file);
}
