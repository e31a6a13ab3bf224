import { expect, test } from 'vitest';
import { descendants, processes, signal } from '../support/processes.ts';
import { databaseServers, Service, until } from './service.ts';

const livesOn = (pid: number) => processes().some((process) => process.pid === pid);

test('npm start stops in order when npm is told to stop', async () => {
  const service = await Service.start({ viaNpm: true });
  const tree = descendants(service.pid);
  expect(await service.stop()).toBe(0);
  expect(service.output).toMatch('Stopping; requests in flight are finished first.');
  expect(databaseServers(service.dataDir)).toEqual([]);
  expect(tree.filter(({ pid }) => livesOn(pid))).toEqual([]);
});

test('npm start leaves nothing behind when npm alone is killed', async () => {
  const service = await Service.start({ viaNpm: true });
  const tree = descendants(service.pid);
  signal(service.pid, 'SIGKILL');
  await until(() => !tree.some(({ pid }) => livesOn(pid)));
  expect(databaseServers(service.dataDir)).toEqual([]);
});
