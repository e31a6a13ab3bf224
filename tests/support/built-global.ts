import { execFileSync } from 'node:child_process';
import path from 'node:path';

/** These tests run what people run: the built service, brought up to date first. */
export default function setup(): void {
  const root = path.resolve(import.meta.dirname, '../..');
  // The test runner calls itself a test; the pages are built as people get them.
  const env = { ...process.env, NODE_ENV: 'production' };
  execFileSync(process.execPath, ['deploy/build.mjs'], { cwd: root, env, stdio: 'inherit' });
}
