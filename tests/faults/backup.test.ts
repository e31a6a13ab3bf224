import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { checkout, temporaryFolder } from './places.ts';
import { databaseServers, Service } from './service.ts';
import { addCustomer, becomeOwner, customerNames, signIn } from './shop.ts';

/** Runs `npm run backup` and its like as they are built. */
function command(args: string[], dataDir: string) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [path.join(checkout, 'apps/api/build/command.js'), ...args],
    { encoding: 'utf8', env: { PATH: process.env['PATH'], HUELOT_DATA_DIR: dataDir } },
  );
  return { status, stdout, stderr };
}

const backupIn = (shelf: string) => path.join(shelf, readdirSync(shelf)[0] ?? '');

test('a backup of the running service restores into a new data folder, and the service goes on', async () => {
  const service = await Service.start();
  const cookie = await becomeOwner(service);
  await addCustomer(service, { name: 'written-1-1', cookie });
  const shelf = temporaryFolder();
  expect(command(['backup', '--to', shelf, '--keep', '3'], service.dataDir)).toMatchObject({
    status: 0,
    stderr: '',
  });
  await addCustomer(service, { name: 'written-1-2', cookie });
  expect(await customerNames(service, cookie)).toEqual(new Set(['written-1-1', 'written-1-2']));

  const dataDir = temporaryFolder();
  expect(command(['restore', backupIn(shelf)], dataDir)).toMatchObject({ status: 0, stderr: '' });
  const restored = await Service.start({ dataDir });
  expect(await customerNames(restored, await signIn(restored))).toEqual(new Set(['written-1-1']));
});

test('a backup needs no running service and leaves none', async () => {
  const service = await Service.start();
  await becomeOwner(service);
  expect(await service.stop()).toBe(0);
  const shelf = temporaryFolder();
  expect(command(['backup', '--to', shelf], service.dataDir)).toMatchObject({ status: 0, stderr: '' });
  expect(databaseServers(service.dataDir)).toEqual([]);
  const { status, stderr } = command(['restore', backupIn(shelf)], service.dataDir);
  expect(status).toBe(1);
  expect(stderr).toMatch('This database is not empty');
});

test.each([
  [[]],
  [['backup']],
  [['backup', '--to', '/tmp', '--keep', '0']],
  [['restore']],
  [['empty', 'everything']],
  [['backup', '--all']],
])('a command that is not understood, %j, is answered with the usage', (args) => {
  const { status, stderr } = command(args, temporaryFolder());
  expect(status).toBe(2);
  expect(stderr).toMatch('backup --to FOLDER');
});
