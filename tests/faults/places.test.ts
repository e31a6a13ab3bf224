import { chmodSync, lstatSync, mkdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { copyInstallation, removeDatabase, temporaryFolder } from './places.ts';
import { databaseServers, Service } from './service.ts';
import { addCustomer, becomeOwner, customerNames, signIn } from './shop.ts';

const self = process.getuid?.() ?? 0;
const isRoot = self === 0;
/** The account that systems give to whoever should own nothing. */
const nobody = 65_534;

/** Works, stops, works again with what was entered; returns the data folder. */
async function livesAndKeeps(options: Parameters<typeof Service.launch>[0]): Promise<void> {
  const first = await Service.start(options);
  const cookie = await becomeOwner(first);
  expect((await addCustomer(first, { name: 'written-1-1', cookie })).status).toBe(201);
  expect((await fetch(`${first.url}/quotations`)).headers.get('content-type')).toMatch('text/html');
  expect(await first.stop()).toBe(0);
  const second = await Service.start(options);
  expect(await customerNames(second, await signIn(second))).toEqual(new Set(['written-1-1']));
  expect(await second.stop()).toBe(0);
  expect(databaseServers(second.dataDir)).toEqual([]);
}

test('in a data folder whose path has a space, the database lies in it', async () => {
  const above = temporaryFolder();
  chmodSync(above, 0o755);
  const dataDir = path.join(above, 'the shop', 'data');
  await livesAndKeeps({ dataDir });
  expect(lstatSync(path.join(dataDir, 'database')).isDirectory()).toBe(true);
});

const accounts = isRoot ? [self, nobody] : [self];
test.each(accounts)('installed in a folder that only its owner, account %i, can enter', async (uid) => {
  const installation = copyInstallation(uid);
  const dataDir = path.join(installation.root, '.huelot', 'shop');
  onTestFinished(() => removeDatabase(dataDir));
  await livesAndKeeps({ installation, dataDir, ...(uid === self ? {} : { account: { uid, gid: uid } }) });

  const database = path.join(dataDir, 'database');
  expect(lstatSync(database).isSymbolicLink()).toBe(uid === 0);
  expect(statSync(database).uid).not.toBe(0);
  expect(statSync(database).mode & 0o077).toBe(0);
});

test('a data folder of another account is refused with what to do', async () => {
  const dataDir = temporaryFolder();
  const database = path.join(dataDir, 'database');
  mkdirSync(database, { mode: 0o000 });
  const service = await Service.launch({
    dataDir,
    ...(isRoot ? { account: { uid: nobody, gid: nobody } } : {}),
  });
  expect(await service.ended()).toBe(1);
  expect(service.output).toMatch(/this account may not use .*HUELOT_DATA_DIR/);
});
