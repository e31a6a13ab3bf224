import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { openKeyFile } from './key-file.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'huelot-key-file-'));
afterAll(() => rmSync(folder, { recursive: true }));

test('a key is made once, for its owner alone, and read again', () => {
  const file = path.join(folder, 'new', 'secrets.key');
  const key = openKeyFile(file);
  expect(key).toHaveLength(32);
  expect(openKeyFile(file)).toEqual(key);
  expect(statSync(file).mode & 0o777).toBe(0o600);
  expect(readFileSync(file, 'utf8')).toBe(`${key.toString('hex')}\n`);
  expect(openKeyFile(path.join(folder, 'other.key'))).not.toEqual(key);
  expect(spawnSync('ls', [path.dirname(file)], { encoding: 'utf8' }).stdout).toBe('secrets.key\n');
});

test.each(['', 'abc', 'g'.repeat(64), `${'a'.repeat(64)}\n${'b'.repeat(64)}\n`])(
  'a file that holds %j was taken for a key',
  (text) => {
    const file = path.join(folder, 'broken.key');
    writeFileSync(file, text);
    expect(() => openKeyFile(file)).toThrow(/broken.key does not hold a key/);
    expect(readFileSync(file, 'utf8')).toBe(text);
  },
);
