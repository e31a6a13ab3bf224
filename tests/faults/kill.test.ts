import { expect, test } from 'vitest';
import { descendants, signal } from '../support/processes.ts';
import { databaseServers, Service, until } from './service.ts';
import type { Lot } from '@huelot/contracts';
import { temporaryFolder } from './places.ts';
import { postmasterOf, prepareFloor, signStep } from './shop.ts';

/** What is killed without warning, while eight people sign steps. */
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

test.each(Object.keys(kills))('kill -9 of %s loses no sign-off that was acknowledged', async (what) => {
  const dataDir = temporaryFolder();
  const { cookie, lotPaths, signOffs } = await prepareFloor(dataDir);
  const first = await Service.start({ dataDir });
  const acknowledged: number[] = [];
  let next = 0;
  const sign = async () => {
    for (let at = next++; first.isRunning && at < signOffs.length; at = next++) {
      const answer = await signStep(first, { cookie, signOff: signOffs[at] }).catch(() => null);
      if (answer?.status === 201) acknowledged.push(at);
    }
  };
  const hands = Array.from({ length: 8 }, sign);
  await until(() => acknowledged.length >= 40);
  await kills[what]?.(first);
  await Promise.all(hands);
  expect(acknowledged.length).toBeLessThan(signOffs.length);

  const second = await Service.start({ dataDir });
  const lost: string[] = [];
  for (const at of acknowledged) {
    const answer = await fetch(second.url + (lotPaths[at] ?? ''), { headers: { cookie } });
    const { travelers } = (await answer.json()) as Lot;
    if (travelers[0]?.signedSteps !== 1) lost.push(lotPaths[at] ?? '');
  }
  expect(lost).toEqual([]);
  expect(databaseServers(dataDir)).toEqual([postmasterOf(second)]);
  expect(await second.stop()).toBe(0);
  expect(databaseServers(dataDir)).toEqual([]);
});

test('kill -9 of the service leaves no database server behind', async () => {
  const service = await Service.start();
  expect(databaseServers(service.dataDir)).toHaveLength(1);
  await killOne(service);
  await until(() => databaseServers(service.dataDir).length === 0);
});
