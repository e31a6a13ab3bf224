import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { Role } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { openDatabase, type Db } from '../../apps/api/src/db/client.ts';
import { benchSize, tell } from './bench-size.ts';
import {
  isOversized,
  malformed,
  operationsOf,
  type Malformed,
  type Operation,
} from './malformed-requests.ts';
import { temporaryFolder } from './places.ts';
import { Service } from './service.ts';
import { addressOf, behindProxy, databaseOf, prepareFloor, signInAnew, type Cookie } from './shop.ts';

const { malformedRequests, seed } = benchSize;
const HANDS = 4;

const memoryMb = ({ pid }: Service): number => {
  const [, kb] = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? [];
  return Number(kb) / 1024;
};

/** What a service answered, and what it should not have. */
interface Outcome {
  answers: Map<number, number>;
  faults: string[];
  resets: string[];
}

async function send(
  service: Service,
  { request, caller, outcome }: { request: Malformed; caller: Record<string, string>; outcome: Outcome },
) {
  const { method, address, headers, body } = request;
  const words = `${method} ${address} ${body?.slice(0, 300) ?? ''}`;
  try {
    const answer = await fetch(service.url + address, {
      method,
      headers: { ...caller, ...headers },
      body,
      redirect: 'manual',
    });
    const text = await answer.text();
    outcome.answers.set(answer.status, (outcome.answers.get(answer.status) ?? 0) + 1);
    if (answer.status >= 500) outcome.faults.push(`${words} -> ${answer.status} ${text.slice(0, 300)}`);
  } catch (error) {
    if (!isOversized(request)) outcome.resets.push(`${words} -> ${String((error as Error).cause ?? error)}`);
  }
}

/** Somebody who may do everything, new for each operation: an accepted body may well end a sign-in or an account. */
const signInEverybody = (db: Db): Promise<Cookie> =>
  signInAnew(db, { name: randomUUID(), roles: Role.options });

test(
  'whatever is sent to each operation of the OpenAPI document is answered without a fault, a reset or more memory',
  async () => {
    const dataDir = temporaryFolder();
    await prepareFloor(dataDir, 6);
    // A heap of a small server: what is kept for good shows as growth, and ends it, instead of waiting for a collection.
    const env = { ...behindProxy, NODE_OPTIONS: '--max-old-space-size=256' };
    const service = await Service.start({ dataDir, env });
    const db = openDatabase({ connectionString: databaseOf(service), max: 4 });
    const cookie = await signInEverybody(db);
    const description = await fetch(`${service.url}/api/openapi.json`, { headers: { cookie } });
    const operations = operationsOf((await description.json()) as Parameters<typeof operationsOf>[0]);
    expect(operations.length).toBeGreaterThan(200);

    const outcome: Outcome = { answers: new Map(), faults: [], resets: [] };
    const total = Math.max(malformedRequests, operations.length);
    const BATCH = 50;
    const rounds = Math.max(1, Math.round(total / operations.length / BATCH));
    const perBatch = Math.ceil(total / operations.length / rounds);
    const work: { operation: Operation; seed: number }[] = Array.from({ length: rounds }, (_, round) =>
      operations.map((operation, index) => ({ operation, seed: seed + round * operations.length + index })),
    ).flat();
    const warmUp = Math.floor(work.length / 3);
    let warmMb = NaN;
    let next = 0;
    const hand = async () => {
      for (let index = next++; index < work.length; index = next++) {
        if (index === warmUp) warmMb = memoryMb(service);
        const item = work[index];
        if (item === undefined) return;
        const caller = { cookie: await signInEverybody(db), 'x-forwarded-for': addressOf(index) };
        for (const request of fc.sample(malformed(item.operation), { numRuns: perBatch, seed: item.seed }))
          await send(service, { request, caller, outcome });
      }
    };
    await Promise.all(Array.from({ length: HANDS }, hand));
    await db.close();
    const endMb = memoryMb(service);
    const asked = [...outcome.answers.values()].reduce((sum, times) => sum + times, 0);
    tell(`${asked} malformed requests to ${operations.length} operations, seed ${seed}`, {
      'answers by status': [...outcome.answers]
        .sort(([one], [other]) => one - other)
        .map(([status, times]) => `${status}: ${times}`)
        .join(', '),
      'faults, unexplained resets': `${outcome.faults.length}, ${outcome.resets.length}`,
      'memory after a third, at the end': `${warmMb.toFixed(0)} MB, ${endMb.toFixed(0)} MB`,
    });
    expect(outcome.answers.get(429) ?? 0).toBeLessThan(asked / 5);
    expect(outcome.faults).toEqual([]);
    expect(outcome.resets).toEqual([]);
    expect(service.isRunning).toBe(true);
    expect(endMb - warmMb).toBeLessThan(100);
    expect(await service.stop()).toBe(0);
  },
  180_000 + malformedRequests * 40,
);
