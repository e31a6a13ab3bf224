import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { readManifest } from '../../apps/api/src/db/backup/manifest.ts';
import { startEmbedded } from '../../apps/api/src/db/embedded/index.ts';
import { makeRoles, serviceRole } from '../../apps/api/src/db/roles.ts';
import { query, urlOf } from '../support/database-server.ts';
import { benchSize, chance } from './bench-size.ts';
import { checkout, temporaryFolder } from './places.ts';
import { Service, until } from './service.ts';
import { behindProxy, databaseOf, prepareFloor, prepareFloorIn } from './shop.ts';
import { startWriteLoad, type Ledger } from './write-load.ts';

const { seed } = benchSize;

/** Runs `npm run backup` and its like as they are built, while everybody else goes on. */
async function command(args: string[], env: Record<string, string>): Promise<string> {
  const file = path.join(checkout, 'apps/api/build/command.js');
  const child = spawn(process.execPath, [file, ...args], {
    env: { PATH: process.env['PATH'] ?? '', ...env },
  });
  let output = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk: Buffer) => (output += chunk.toString()));
  const [status] = (await once(child, 'close')) as [number];
  if (status !== 0) throw new Error(`${args.join(' ')} ended with ${status}: ${output}`);
  return output;
}

const wholeBackup = (shelf: string) => path.join(shelf, readdirSync(shelf)[0] ?? '');
const written = ({ customers, files, steps }: Ledger) => customers.length + files.length + steps.length;

/** Takes a backup while people write; returns it with what had been acknowledged before it began. */
async function backupUnderLoad({
  service,
  floor,
  random,
  env,
}: {
  service: Service;
  floor: Awaited<ReturnType<typeof prepareFloor>>;
  env: Record<string, string>;
  random: () => number;
}): Promise<{ backup: string; acknowledged: string[] }> {
  const load = startWriteLoad({ service: () => service, floor, random });
  await until(() => written(load.ledger) > 25);
  const acknowledged = [...load.ledger.customers];
  const shelf = temporaryFolder();
  const before = written(load.ledger);
  await command(['backup', '--to', shelf], env);
  expect(written(load.ledger), 'people went on writing').toBeGreaterThan(before);
  await load.end();
  return { backup: wholeBackup(shelf), acknowledged };
}

/** A backup of what was restored has the same rows in every table, to the byte, as the backup it came from. */
async function expectSameRows(backup: string, restoredEnv: Record<string, string>): Promise<void> {
  const shelf = temporaryFolder();
  await command(['backup', '--to', shelf], restoredEnv);
  const [before, after] = await Promise.all([readManifest(backup), readManifest(wholeBackup(shelf))]);
  const tables = ({ tables: all }: typeof before) =>
    all.map(({ name, rows, sha256 }) => ({ name, rows, sha256 }));
  expect(tables(before).length).toBeGreaterThan(60);
  expect(tables(after)).toEqual(tables(before));
}

test('a backup taken while people write restores row by row into an embedded database, its chain whole', async () => {
  const dataDir = temporaryFolder();
  const floor = await prepareFloor(dataDir, 40);
  const service = await Service.start({ dataDir, env: behindProxy });
  const { backup, acknowledged } = await backupUnderLoad({
    ...{ service, floor, env: { HUELOT_DATA_DIR: dataDir }, random: chance(seed + 10) },
  });
  const restored = { HUELOT_DATA_DIR: temporaryFolder() };
  await command(['restore', backup], restored);
  await expectSameRows(backup, restored);

  copyFileSync(path.join(dataDir, 'chain.key'), path.join(restored.HUELOT_DATA_DIR, 'chain.key'));
  expect(await command(['verify'], restored)).toContain('The record is whole');
  const again = await Service.start({ dataDir: restored.HUELOT_DATA_DIR });
  const rows = await query<{ name: string }>(databaseOf(again), `select "name" from "customer"`);
  expect(rows.map(({ name }) => name)).toEqual(expect.arrayContaining(acknowledged));
  // Whoever alters the restored record behind the service is found there, too.
  await query(databaseOf(again), `alter table "audit_entry" disable trigger all`);
  await query(
    databaseOf(again),
    `delete from "audit_entry" where "id" = (select min("id") from "audit_entry")`,
  );
  await expect(command(['verify'], restored)).rejects.toThrow(
    /First broken place: entry of the audit trail \d+ was deleted/,
  );
}, 120_000);

test('a backup taken while people write restores row by row on a server of the shop, its chain whole', async () => {
  const server = await startEmbedded({ dataDir: temporaryFolder(), durable: false });
  onTestFinished(() => server.stop());
  const admin = (name: string) => urlOf(server.connectionString, name);
  // A server of the shop has no role of Huelot yet.
  await query(admin('postgres'), `alter role ${serviceRole} rename to another`);
  await query(admin('postgres'), 'create database shop');
  const { ownerUrl, serviceUrl } = await makeRoles(admin('shop'));
  const floor = await prepareFloorIn(ownerUrl);
  const env = { DATABASE_URL: serviceUrl, HUELOT_OWNER_URL: ownerUrl, HUELOT_DATA_DIR: temporaryFolder() };
  const service = await Service.start({ env: { ...env, ...behindProxy } });
  expect(service.output).not.toContain('can switch the rules of the record off');
  const { backup, acknowledged } = await backupUnderLoad({ service, floor, env, random: chance(seed + 11) });

  await query(admin('postgres'), `create database restored owner huelot_owner template template0`);
  const restored = {
    ...env,
    DATABASE_URL: urlOf(serviceUrl, 'restored'),
    HUELOT_OWNER_URL: urlOf(ownerUrl, 'restored'),
  };
  await command(['restore', backup], restored);
  await expectSameRows(backup, restored);
  expect(await command(['verify'], restored)).toContain('The record is whole');
  const rows = await query<{ name: string }>(restored.DATABASE_URL, `select "name" from "customer"`);
  expect(rows.map(({ name }) => name)).toEqual(expect.arrayContaining(acknowledged));
}, 120_000);
