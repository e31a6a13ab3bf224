import { renameSync } from 'node:fs';
import { expect, test } from 'vitest';
import { findBinaries } from '../../apps/api/src/db/embedded/binaries.ts';
import { openPlace } from '../../apps/api/src/db/embedded/paths.ts';
import { connectionString, end, initialise, launch } from '../../apps/api/src/db/embedded/start.ts';
import { signal } from '../support/processes.ts';
import { temporaryFolder } from './places.ts';
import { databaseServers, Service, until } from './service.ts';
import { addCustomer, becomeOwner, customerNames, postmasterOf } from './shop.ts';

test('a database of the shop’s own that stops and comes back: 503 in between, and nothing lost', async () => {
  const place = openPlace(temporaryFolder());
  const installation = { place, binaries: findBinaries(place.account, place.shelf), durable: true };
  await initialise(place, installation.binaries);
  let running = await launch(installation);
  const service = await Service.start({ env: { DATABASE_URL: connectionString(place, running.port) } });
  const cookie = await becomeOwner(service);
  expect((await addCustomer(service, { name: 'written-1-1', cookie })).status).toBe(201);

  await end(running);
  expect(await service.health()).toBe(503);
  const refused = await addCustomer(service, { name: 'written-1-2', cookie });
  expect(refused.status).toBe(503);
  expect(refused.headers.get('content-type')).toMatch(/^application\/problem\+json/);
  expect(await refused.json()).toMatchObject({ code: 'unavailable', status: 503 });

  running = await launch(installation, running.port);
  await service.untilHealthy();
  expect((await addCustomer(service, { name: 'written-1-3', cookie })).status).toBe(201);
  expect(await customerNames(service, cookie)).toEqual(new Set(['written-1-1', 'written-1-3']));
  expect(await service.stop()).toBe(0);
  await end(running);
});

test('an embedded database that dies is started again under the running service', async () => {
  const service = await Service.start();
  const cookie = await becomeOwner(service);
  expect((await addCustomer(service, { name: 'written-1-1', cookie })).status).toBe(201);
  const before = postmasterOf(service);
  signal(before, 'SIGKILL');
  await until(() => service.output.includes('starting it again'));
  await service.untilHealthy();
  expect(postmasterOf(service)).not.toBe(before);
  expect((await addCustomer(service, { name: 'written-1-2', cookie })).status).toBe(201);
  expect(await customerNames(service, cookie)).toEqual(new Set(['written-1-1', 'written-1-2']));
  expect(await service.stop()).toBe(0);
});

test('an embedded database that cannot be started again ends the service with a reason', async () => {
  const service = await Service.start();
  const cluster = `${service.dataDir}/database/cluster`;
  renameSync(`${cluster}/global`, `${cluster}/gone`);
  signal(postmasterOf(service), 'SIGKILL');
  expect(await service.ended()).toBe(1);
  expect(service.output).toMatch(/Huelot cannot run: The database server did not start/);
  expect(databaseServers(service.dataDir)).toEqual([]);
});
