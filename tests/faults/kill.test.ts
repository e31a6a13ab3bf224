import { expect, test } from 'vitest';
import { descendants, signal } from '../support/processes.ts';
import { databaseServers, Service, until } from './service.ts';
import { addCustomer, becomeOwner, customerNames, postmasterOf, signIn } from './shop.ts';

const killOne = async (service: Service) => {
  service.process.kill('SIGKILL');
  await service.ended();
};

test('kill -9 of the service leaves no database server behind', async () => {
  const service = await Service.start();
  expect(databaseServers(service.dataDir)).toHaveLength(1);
  await killOne(service);
  await until(() => databaseServers(service.dataDir).length === 0);
});

test('a database server of an earlier run that hangs while it stops is ended, and nothing is lost', async () => {
  const first = await Service.start();
  const cookie = await becomeOwner(first);
  expect((await addCustomer(first, { name: 'written-1-1', cookie })).status).toBe(201);
  const hanging = descendants(postmasterOf(first)).find(({ command }) => command.includes('checkpointer'));
  signal(hanging?.pid ?? NaN, 'SIGSTOP');
  await killOne(first);

  const second = await Service.start({ dataDir: first.dataDir });
  expect(second.output).toMatch(
    /earlier run is still running; stopping it.\nIt does not shut down cleanly; stopping it now/,
  );
  expect(databaseServers(first.dataDir)).toEqual([postmasterOf(second)]);
  expect(await customerNames(second, await signIn(second))).toEqual(new Set(['written-1-1']));
  expect(await second.stop()).toBe(0);
});
