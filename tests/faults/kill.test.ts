import { expect, test } from 'vitest';
import { descendants, signal } from '../support/processes.ts';
import { databaseServers, Service, until } from './service.ts';
import { addCustomer, becomeOwner, customerNames, postmasterOf, signIn } from './shop.ts';

/** What is killed without warning, while eight people write. */
const kills: Record<string, (service: Service) => Promise<void>> = {
  'the whole process tree': (service) => service.killTree(),
  'the service alone': (service) => killOne(service),
  'the service and the one that watches over its database': async (service) => {
    const watcher = descendants(service.pid).find(({ command }) => command.includes('huelot-watch'));
    signal(watcher?.pid ?? NaN, 'SIGKILL');
    await killOne(service);
  },
};
const killOne = async (service: Service) => {
  service.process.kill('SIGKILL');
  await service.ended();
};

test.each(Object.keys(kills))('kill -9 of %s loses nothing that was acknowledged', async (what) => {
  const first = await Service.start();
  const cookie = await becomeOwner(first);
  const acknowledged = new Set<string>();
  const write = async (person: number) => {
    for (let n = 0; first.isRunning; n += 1) {
      const name = `written-${person}-${n}`;
      const answer = await addCustomer(first, { name, cookie }).catch(() => null);
      if (answer?.status === 201) acknowledged.add(name);
    }
  };
  const writers = Array.from({ length: 8 }, (_, person) => write(person));
  await until(() => acknowledged.size >= 40);
  await kills[what]?.(first);
  await Promise.all(writers);

  const second = await Service.start({ dataDir: first.dataDir });
  const kept = await customerNames(second, await signIn(second));
  expect([...acknowledged].filter((name) => !kept.has(name))).toEqual([]);
  expect(databaseServers(first.dataDir)).toEqual([postmasterOf(second)]);
  expect(await second.stop()).toBe(0);
  expect(databaseServers(first.dataDir)).toEqual([]);
});

test('kill -9 of the service leaves no database server behind', async () => {
  const service = await Service.start();
  expect(databaseServers(service.dataDir)).toHaveLength(1);
  await killOne(service);
  await until(() => databaseServers(service.dataDir).length === 0);
});
