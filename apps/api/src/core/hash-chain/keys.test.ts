import { chmodSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { keyedDigest } from './digests.ts';
import { addKey, makeFirstKey, readKeys } from './keys.ts';
import { parseSeal, sealText } from './seal-text.ts';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'huelot-keys-'));
  file = path.join(folder, 'below', 'chain.key');
});
afterEach(() => rmSync(folder, { recursive: true }));

test('the key could be read by others', () => {
  makeFirstKey(file);
  expect(statSync(file).mode & 0o777).toBe(0o600);
  chmodSync(file, 0o644);
  addKey(file);
  expect(statSync(file).mode & 0o777).toBe(0o600);
});

test('two processes that start at once made two keys', () => {
  expect(makeFirstKey(file).newestId).toBe(makeFirstKey(file).newestId);
  expect(readFileSync(file, 'utf8')).toMatch(/^[0-9a-f]{64}\n$/);
});

test('a new key stands behind the earlier ones, which stay', () => {
  const first = makeFirstKey(file);
  const second = addKey(file);
  expect([...second.byId.keys()]).toEqual([first.newestId, second.newestId]);
  expect(readKeys(file)).toEqual(second);
});

test.each(['', 'password', 'ab'.repeat(31), `${'ab'.repeat(32)}\nhalf`])(
  'a key file that holds %j is refused in words',
  (text) => {
    makeFirstKey(file);
    writeFileSync(file, text);
    expect(() => readKeys(file)).toThrow(/does not hold the key of the chain/);
  },
);

test('two records whose parts were cut elsewhere had one digest', () => {
  const key = Buffer.alloc(32, 1);
  expect(keyedDigest(key, ['ab', 'c'])).not.toEqual(keyedDigest(key, ['a', 'bc']));
  expect(keyedDigest(key, ['a'])).not.toEqual(keyedDigest(key, ['a', '']));
  expect(keyedDigest(key, ['a'])).not.toEqual(keyedDigest(Buffer.alloc(32, 2), ['a']));
});

const digest = '5a0c'.repeat(16);
test.each([
  [sealText({ position: 1482, digest })],
  [`1482 - ${(digest.match(/.{8}/g) ?? []).join(' ')}`],
  [
    `Seal of 1 May, sheet 2\n\n1482-${digest.toUpperCase()}\n\nagain: 1482 - ${digest.slice(0, 32)}\n${digest.slice(32)}`,
  ],
])('a seal is read as it was printed, mailed or typed: %s', (text) => {
  expect(parseSeal(text)).toEqual({ position: 1482, digest });
});

test.each([
  ['', 'nothing'],
  [`1482-${digest.slice(1)}`, 'one digit short'],
  [`1482-${digest}0`, 'one digit too many'],
  [`0-${digest}`, 'no entry'],
  [`1482-${digest} and 1483-${digest}`, 'two different ones'],
])('%s is no seal: %s', (text) => {
  expect(parseSeal(text)).toBeNull();
});
