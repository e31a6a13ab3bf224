import { readFileSync } from 'node:fs';
import path from 'node:path';
import { root } from './root.ts';

/** The version of this Huelot. */
export function readRelease(): string {
  const file = readFileSync(path.join(root, 'package.json'), 'utf8');
  return (JSON.parse(file) as { version: string }).version;
}
