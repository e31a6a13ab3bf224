import { randomBytes, randomUUID } from 'node:crypto';

import { setTimeout as sleep } from 'node:timers/promises';
import type { Floor } from '../support/many-lots.ts';
import { addCustomer, addressOf, readColour, signStep, upload } from './shop.ts';
import type { Service } from './service.ts';

/** What was asked of a service, and what it said was done. */
export interface Ledger {
  /** Names of customers whose making was acknowledged. */
  customers: string[];
  /** Ids of files that were acknowledged. */
  files: number[];
  /** Ids of steps whose sign-off was acknowledged. */
  steps: number[];
  /** Names of places whose two readings were acknowledged. */
  colours: string[];
  /** How many answers there were of each status; 0 stands for no answer at all. */
  answers: Map<number, number>;
  /** What was answered where the service itself failed: anything from 500 on but 503. */
  faults: string[];
  /** Writes that were refused for good: nothing that is sent here should be. */
  refusals: string[];
}

export interface WriteLoad {
  ledger: Ledger;
  /** Lets everybody finish what they wait for, and waits until they have. */
  end: () => Promise<void>;
}

const HANDS = 8;
/** Between two requests of a hand, so that an outage is not hammered. */
const PAUSE_MS = 100;

interface Load {
  /** The service there is now; another one after each kill. */
  service: () => Service;
  floor: Floor;
  random: () => number;
}

/** Eight people who make customers, send drawings, sign steps and read colours, one write after another, until told to end. */
export function startWriteLoad({ service, floor, random }: Load): WriteLoad {
  const ledger: Ledger = {
    customers: [],
    files: [],
    steps: [],
    colours: [],
    answers: new Map(),
    faults: [],
    refusals: [],
  };
  const run = randomUUID();
  const cookie = floor.estimatorCookie;
  let isOver = false;
  let nextStep = 0;
  let nextName = 0;
  let nextAddress = 0;

  /** Everybody asks from another place: the limits of one address are tried elsewhere. */
  const address = () => addressOf(nextAddress++);

  const ask = async (send: () => Promise<Response>): Promise<Response | null> => {
    const answer = await send().then(
      async (response) => new Response(await response.arrayBuffer(), response),
      () => null,
    );
    const status = answer?.status ?? 0;
    ledger.answers.set(status, (ledger.answers.get(status) ?? 0) + 1);
    if (answer !== null && status >= 500 && status !== 503) ledger.faults.push(await answer.clone().text());
    await sleep(PAUSE_MS);
    return answer;
  };

  /** As a browser does: the same write with the same key, until there is an answer. Null where it was refused, or time is over. */
  const untilWritten = async (send: () => Promise<Response>): Promise<Response | null> => {
    for (;;) {
      const answer = await ask(send);
      if (answer?.status === 201) return answer;
      if (answer === null) {
        if (isOver) return null;
      } else if (answer.status === 429) await sleep(Number(answer.headers.get('retry-after') ?? 1) * 1000);
      else if (answer.status < 500 && !(await isUnderWay(answer))) {
        ledger.refusals.push(`${answer.status}: ${await answer.text()}`);
        return null;
      }
    }
  };

  const kinds = [
    async () => {
      const customer = { name: `load ${run} ${nextName++}`, cookie, key: randomUUID() };
      const answer = await untilWritten(() => addCustomer(service(), { ...customer, address: address() }));
      if (answer !== null) ledger.customers.push(customer.name);
    },
    async () => {
      const bytes = randomBytes(20_000 + Math.floor(random() * 600_000));
      const file = { name: `load-${nextName++}`, cookie, bytes, key: randomUUID() };
      const answer = await untilWritten(() => upload(service(), { ...file, address: address() }));
      if (answer !== null) ledger.files.push(((await answer.json()) as { id: number }).id);
    },
    async () => {
      const signOff = floor.signOffs[nextStep++];
      if (signOff === undefined) return;
      const answer = await untilWritten(() =>
        signStep(service(), { cookie: floor.cookie, signOff, address: address() }),
      );
      if (answer !== null) ledger.steps.push(Number(signOff.path.split('/')[3]));
    },
    async () => {
      const place = {
        name: `load-${nextName++}`,
        cookie: floor.cookie,
        key: randomUUID(),
        ...floor.coloured,
      };
      const answer = await untilWritten(() => readColour(service(), { ...place, address: address() }));
      if (answer !== null) ledger.colours.push(place.name);
    },
  ];
  const hand = async () => {
    while (!isOver) await kinds[Math.floor(random() * kinds.length)]?.();
  };
  const hands = Array.from({ length: HANDS }, hand);
  return {
    ledger,
    end: async () => {
      isOver = true;
      await Promise.all(hands);
    },
  };
}

const isUnderWay = async (answer: Response) =>
  answer.status === 409 && ((await answer.clone().json()) as { code: string }).code === 'in-progress';
