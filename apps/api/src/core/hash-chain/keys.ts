import { createHmac, randomBytes } from 'node:crypto';
import { existsSync, linkSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** The keys of the chain, by what each is called; entries are made with the newest. */
export interface ChainKeys {
  byId: ReadonlyMap<string, Buffer>;
  newestId: string;
}

/** What a key is called in the record: so much of it that two are told apart, and nothing that helps to find it. */
const idOf = (key: Buffer): string =>
  createHmac('sha256', key).update('name of a key of the chain').digest('hex').slice(0, 12);

/**
 * Reads the keys from `file`: one to a line, 64 hexadecimal digits, the newest last.
 *
 * @returns null where there is no such file
 * @throws Error when the file holds something else
 */
export function readKeys(file: string): ChainKeys | null {
  if (!existsSync(file)) return null;
  const lines = readFileSync(file, 'utf8')
    .split('\n')
    .filter((line) => line.trim() !== '');
  if (lines.length === 0 || !lines.every((line) => /^[0-9a-f]{64}$/i.test(line.trim()))) {
    throw new Error(
      `${file} does not hold the key of the chain: each line must be 64 hexadecimal digits. Put back the file as it was.`,
    );
  }
  return keysOf(lines.map((line) => Buffer.from(line.trim(), 'hex')));
}

/** Makes the first key in `file`, or reads the one that another process made at the same moment. */
export function makeFirstKey(file: string): ChainKeys {
  mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
  const draft = writeDraft(file, [newLine()]);
  try {
    linkSync(draft, file);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  } finally {
    rmSync(draft);
  }
  return readKeys(file) as ChainKeys;
}

/** Writes a new key behind those that are in `file`, and returns them all. */
export function addKey(file: string): ChainKeys {
  if (readKeys(file) === null) return makeFirstKey(file);
  renameSync(writeDraft(file, [readFileSync(file, 'utf8').trimEnd(), newLine()]), file);
  return readKeys(file) as ChainKeys;
}

const newLine = () => randomBytes(32).toString('hex');

/** The whole content beside `file`, for its owner alone, so that nobody ever finds half a key. */
function writeDraft(file: string, lines: readonly string[]): string {
  const draft = `${file}.${process.pid}`;
  writeFileSync(draft, `${lines.join('\n')}\n`, { mode: 0o600 });
  return draft;
}

/** Keys that are held in memory, oldest first. */
export function keysOf(keys: readonly Buffer[]): ChainKeys {
  const named = keys.map((key) => [idOf(key), key] as const);
  return { byId: new Map(named), newestId: named.at(-1)?.[0] ?? '' };
}
