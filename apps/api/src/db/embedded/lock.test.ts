import { mkdtempSync, readFileSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, onTestFinished, test } from 'vitest';
import { acquireLock } from './lock.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'huelot-owner-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const leave = (number: number, owner: object) =>
  writeFileSync(path.join(folder, `owner-${number}`), JSON.stringify(owner));

test('a folder is held by one until it is given back', async () => {
  const first = await acquireLock(folder);
  await expect(acquireLock(folder)).rejects.toThrow(`is in use by process ${process.pid} on ${hostname()}`);
  first.release();
  expect(readdirSync(folder)).toEqual([]);
  (await acquireLock(folder)).release();
});

test('of many that try at once one gets it', async () => {
  leave(7, { pid: 2 ** 22, host: hostname(), born: 'long ago' });
  const tries = await Promise.allSettled(Array.from({ length: 20 }, () => acquireLock(folder)));
  const won = tries.flatMap((attempt) => (attempt.status === 'fulfilled' ? [attempt.value] : []));
  expect(won).toHaveLength(1);
  expect(readdirSync(folder)).toEqual(['owner-8']);
  won[0]?.release();
});

test.each([
  ['a process that is gone', { pid: 2 ** 22, host: hostname(), born: 'long ago' }],
  ['a process whose number another one has now', { pid: process.pid, host: hostname(), born: 'long ago' }],
])('what %s has left is taken over', async (_what, owner) => {
  leave(3, owner);
  const taken = await acquireLock(folder);
  expect(readdirSync(folder)).toEqual(['owner-4']);
  expect(JSON.parse(readFileSync(path.join(folder, 'owner-4'), 'utf8'))).toMatchObject({ pid: process.pid });
  taken.release();
});

test('a machine that shares the folder is believed while its claim beats', async () => {
  leave(1, { pid: 1, host: 'the other machine', born: 'now' });
  const beat = setInterval(() => utimesSync(path.join(folder, 'owner-1'), new Date(), new Date()), 300);
  onTestFinished(() => clearInterval(beat));
  await expect(acquireLock(folder)).rejects.toThrow('is in use by process 1 on the other machine');
});

test('a machine that shares the folder and went down is not waited for for ever', async () => {
  leave(1, { pid: 1, host: 'the other machine', born: 'then' });
  (await acquireLock(folder)).release();
});
