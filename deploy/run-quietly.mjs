import { spawn } from 'node:child_process';
import path from 'node:path';

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
  if (code !== 0) throw new Error(Buffer.concat(words).toString().trim() || `${program} ended with ${code}`);
}

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
