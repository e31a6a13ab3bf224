import { setTimeout as sleep } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { query } from '../support/database-server.ts';
import { descendants, signal } from '../support/processes.ts';
import { benchSize, chance, median, tell } from './bench-size.ts';
import { damageOf } from './check-ledger.ts';
import { temporaryFolder } from './places.ts';
import { databaseServers, Service, until } from './service.ts';
import { behindProxy, databaseOf, postmasterOf, prepareFloor } from './shop.ts';
import { startWriteLoad, type Ledger } from './write-load.ts';

const { serviceKills, databaseMishaps, seed } = benchSize;
/** A kill and the start after it take seconds. */
const patienceMs = (kills: number) => 180_000 + kills * 30_000;

/** Waits until some more has been written, and then a moment, so that each fault meets something else under way. */
async function moreWrites({ customers, files, steps, colours }: Ledger, random: () => number): Promise<void> {
  const written = () => customers.length + files.length + steps.length + colours.length;
  const enough = written() + 10 + Math.floor(random() * 20);
  await until(() => written() >= enough);
  await sleep(random() * 100);
}

/** What is killed without warning, in turn. */
const kills: ((service: Service) => Promise<unknown>)[] = [
  (service) => service.killTree(),
  (service) => killAlone(service),
  (service) => {
    const watcher = descendants(service.pid).find(({ command }) => command.includes('huelot-watch'));
    signal(watcher?.pid ?? NaN, 'SIGKILL');
    return killAlone(service);
  },
];
const killAlone = (service: Service) => {
  signal(service.pid, 'SIGKILL');
  return service.ended();
};

/** What was answered where the service itself failed, each with what it wrote down about it. */
const explained = ({ faults }: Ledger, service: Service) =>
  faults.map((fault) => {
    const { reference } = JSON.parse(fault) as { reference?: string };
    return (
      service.output.split('\n').find((line) => reference !== undefined && line.includes(reference)) ?? fault
    );
  });

const unharmed = { lost: 0, doubled: 0, torn: 0 };

const figuresOf = ({ customers, files, steps, colours, answers }: Ledger) => ({
  'writes acknowledged: customers, files, sign-offs, colours': `${customers.length}, ${files.length}, ${steps.length}, ${colours.length}`,
  'answers by status (0: none)': [...answers]
    .sort(([one], [other]) => one - other)
    .map(([status, times]) => `${status}: ${times}`)
    .join(', '),
});

test(
  `a service killed again and again while people write loses, doubles and tears nothing`,
  async () => {
    const random = chance(seed);
    const dataDir = temporaryFolder();
    const floor = await prepareFloor(dataDir, Math.max(60, serviceKills * 4));
    let service = await Service.start({ dataDir, env: behindProxy });
    const load = startWriteLoad({ service: () => service, floor, random });
    const startsMs: number[] = [];
    for (let kill = 0; kill < serviceKills; kill += 1) {
      await moreWrites(load.ledger, random);
      await kills[kill % kills.length]?.(service);
      const began = performance.now();
      service = await Service.start({ dataDir, env: behindProxy });
      startsMs.push(performance.now() - began);
      expect(databaseServers(dataDir)).toEqual([postmasterOf(service)]);
    }
    await load.end();
    const damage = await damageOf(databaseOf(service), load.ledger);
    tell(`${serviceKills} kills of the service under a write load, seed ${seed}`, {
      ...figuresOf(load.ledger),
      'lost, doubled, torn': Object.values(damage).join(', '),
      'start after a kill: median, worst': `${(median(startsMs) / 1000).toFixed(2)} s, ${(Math.max(...startsMs) / 1000).toFixed(2)} s`,
    });
    expect(damage).toEqual(unharmed);
    expect(explained(load.ledger, service)).toEqual([]);
    expect(load.ledger.refusals).toEqual([]);
    expect(
      load.ledger.customers.length * load.ledger.files.length * load.ledger.steps.length,
    ).toBeGreaterThan(0);
    expect(await service.stop()).toBe(0);
  },
  patienceMs(serviceKills),
);

/** What happens to the database while the service goes on. */
const mishaps: [name: string, happen: (service: Service) => unknown][] = [
  ['the server is killed', (service) => signal(postmasterOf(service), 'SIGKILL')],
  ['the server is stopped in order', (service) => signal(postmasterOf(service), 'SIGINT')],
  ['the server is stopped at once', (service) => signal(postmasterOf(service), 'SIGQUIT')],
  [
    'one of its processes is killed',
    (service) => {
      const busy = descendants(postmasterOf(service)).find(({ command }) =>
        /: huelot_service /.test(command),
      );
      signal(busy?.pid ?? NaN, 'SIGKILL');
    },
  ],
  [
    'all connections are cut',
    (service) =>
      query(
        databaseOf(service),
        `select pg_terminate_backend(pid) from pg_stat_activity where datname = 'huelot' and pid <> pg_backend_pid()`,
      ),
  ],
];

test(
  'a database killed, stopped and cut off again and again ends no service, and every answer says why',
  async () => {
    const random = chance(seed + 1);
    const dataDir = temporaryFolder();
    const floor = await prepareFloor(dataDir, Math.max(60, databaseMishaps * 4));
    const service = await Service.start({ dataDir, env: behindProxy });
    const load = startWriteLoad({ service: () => service, floor, random });
    const backMs: number[] = [];
    for (let mishap = 0; mishap < databaseMishaps; mishap += 1) {
      await moreWrites(load.ledger, random);
      const [, happen] = mishaps[mishap % mishaps.length] ?? [];
      await happen?.(service);
      const began = performance.now();
      await service.untilHealthy();
      backMs.push(performance.now() - began);
      // More than five deaths in a minute are no mishap; the service would give the database up.
      if (databaseMishaps > mishaps.length) await sleep(11_000);
    }
    await load.end();
    const damage = await damageOf(databaseOf(service), load.ledger);
    tell(`${databaseMishaps} mishaps of the database under a write load, seed ${seed + 1}`, {
      'kinds in turn': mishaps.map(([name]) => name).join('; '),
      ...figuresOf(load.ledger),
      'lost, doubled, torn': Object.values(damage).join(', '),
      'healthy again: median, worst': `${(median(backMs) / 1000).toFixed(2)} s, ${(Math.max(...backMs) / 1000).toFixed(2)} s`,
    });
    expect(service.isRunning, service.output).toBe(true);
    expect(damage).toEqual(unharmed);
    expect(explained(load.ledger, service)).toEqual([]);
    expect(load.ledger.refusals).toEqual([]);
    expect(load.ledger.answers.get(0) ?? 0).toBe(0);
    expect(await service.stop()).toBe(0);
  },
  patienceMs(databaseMishaps),
);
