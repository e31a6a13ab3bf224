import { randomBytes } from 'node:crypto';
import { existsSync, linkSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/**
 * The key of 32 bytes in `file`, made there at the first need: 64 hexadecimal digits, for the owner of the file alone. Of
 * several processes that make it at once one does, and all get the same.
 *
 * @throws Error when the file holds something else
 */
export function openKeyFile(file: string): Buffer {
  if (!existsSync(file)) makeKeyFile(file);
  const text = readFileSync(file, 'utf8').trim();
  if (!/^[0-9a-f]{64}$/i.test(text))
    throw new Error(`${file} does not hold a key: 64 hexadecimal digits. Put back the file as it was.`);
  return Buffer.from(text, 'hex');
}

/** Whole or not at all: written beside its place and then named. */
function makeKeyFile(file: string): void {
  mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
  const draft = `${file}.${process.pid}`;
  writeFileSync(draft, `${randomBytes(32).toString('hex')}\n`, { mode: 0o600 });
  try {
    linkSync(draft, file);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  } finally {
    rmSync(draft);
  }
}
