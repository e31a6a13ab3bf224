import type { Traveler } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { ApiProblem } from '$lib/problem.ts';
import { TankQueue, type SignOffBody, type TankCalls } from './queue.svelte.ts';

const [omar, ines] = [7, 8];
const noNetwork = () => new ApiProblem({ code: 'offline', detail: 'no network' });
const body: SignOffBody = {
  doneAt: '2026-11-29T02:47:00.000Z',
  countIn: 24,
  countOut: 24,
  rejectCount: 0,
  readings: [{ quantity: 'temperatureC', value: 58, instrument: '' }],
  reason: '',
  note: 'a little cloudy',
  tankId: null,
  supplyId: null,
  signer: null,
};

/** A tablet whose network, people and server the test moves; it remembers what reached the server, and from whom. */
class Tablet {
  online = true;
  personId = omar;
  refuses: ApiProblem | null = null;
  parkingFails: ApiProblem | null = null;
  losesAnswers = false;
  readonly reached: { by: number; call: string; stepId: number; key: string; body?: SignOffBody }[] = [];
  readonly #stored = new Map<string, string>();
  queue = this.start();

  /** The browser is killed and started again: only what is in the storage is left. */
  start(): TankQueue {
    const reach = async (call: string, item: { stepId: number; key: string; body?: SignOffBody }) => {
      await Promise.resolve();
      if (!this.online) throw noNetwork();
      if (item.body?.personId !== undefined && item.body.personId !== this.personId)
        throw new ApiProblem({ code: 'other-person', status: 409, detail: 'somebody else' });
      const failure = call === 'sign' ? this.refuses : call === 'park' ? this.parkingFails : null;
      if (failure !== null) throw failure;
      this.reached.push({ by: this.personId, call, ...item });
      if (this.losesAnswers) throw noNetwork();
      return { id: item.stepId } as Traveler;
    };
    const calls: TankCalls = {
      sign: (item) => reach('sign', item),
      park: async (item) => ({ traveler: await reach('park', item), refusal: 'Lot L-1 is on hold.' }),
      stamp: (item) => reach(item.kind, item),
    };
    const storage = {
      getItem: (name: string) => this.#stored.get(name) ?? null,
      setItem: (name: string, text: string) => void this.#stored.set(name, text),
    };
    return new TankQueue({ calls, storage, personId: () => this.personId });
  }

  sign(stepId: number, lotId = 1) {
    const person = this.personId === omar ? 'Omar' : 'Ines';
    const who = { personId: this.personId, person };
    return this.queue.add({ kind: 'sign', ...who, lotId, stepId, title: `step ${stepId}`, body });
  }
}

test('what Omar signed offline was sent under Ines’s name', async () => {
  const tablet = new Tablet();
  tablet.online = false;
  expect(await tablet.sign(2)).toBeNull();
  tablet.online = true;
  tablet.personId = ines;
  await tablet.queue.flush();
  expect(tablet.reached).toEqual([]);
  expect(tablet.queue.ofOthers).toMatchObject([{ person: 'Omar', stepId: 2 }]);
  tablet.personId = omar;
  await tablet.queue.flush();
  expect(tablet.reached).toMatchObject([{ by: omar, call: 'sign', stepId: 2, body: { personId: omar } }]);
  expect(tablet.queue.items).toEqual([]);
});

test('a colleague’s step of another lot does not wait behind it, one of the same lot does', async () => {
  const tablet = new Tablet();
  tablet.online = false;
  await tablet.sign(2, 1);
  tablet.personId = ines;
  await tablet.sign(3, 1);
  await tablet.sign(9, 5);
  tablet.online = true;
  await tablet.queue.flush();
  expect(tablet.reached.map(({ stepId }) => stepId)).toEqual([9]);
  expect(tablet.queue.items.map(({ stepId }) => stepId)).toEqual([2, 3]);
});

test('what the server refused was thrown away: it goes to quality with its readings', async () => {
  const tablet = new Tablet();
  tablet.online = false;
  await tablet.sign(2);
  tablet.online = true;
  tablet.refuses = new ApiProblem({ code: 'on-hold', status: 409, detail: 'Lot L-1 is on hold.' });
  await tablet.queue.flush();
  expect(tablet.reached).toMatchObject([{ call: 'park', body: { ...body, personId: omar } }]);
  expect(tablet.queue.items).toEqual([]);
  expect(tablet.queue.parked).toMatchObject([{ title: 'step 2', refusal: 'Lot L-1 is on hold.' }]);
  // The word of it is there until it is read, also in a browser that was killed.
  const again = tablet.start();
  expect(again.parked).toHaveLength(1);
  again.readNotice(again.parked[0]?.key ?? '');
  expect(tablet.start().parked).toEqual([]);
});

test('what can neither be signed nor handed over stays in the queue', async () => {
  const tablet = new Tablet();
  tablet.online = false;
  await tablet.sign(2);
  tablet.online = true;
  tablet.refuses = new ApiProblem({ code: 'on-hold', status: 409, detail: 'on hold' });
  tablet.parkingFails = new ApiProblem({ code: 'invalid-input', status: 422, detail: 'an older page' });
  await tablet.queue.flush();
  expect(tablet.queue.items).toMatchObject([{ stepId: 2, stuck: 'an older page', body }]);
  tablet.parkingFails = noNetwork();
  await tablet.queue.flush();
  expect(tablet.start().items).toMatchObject([{ stepId: 2, body }]);
});

test('a browser killed while a signature was under way lost it', async () => {
  const tablet = new Tablet();
  const underWay = tablet.sign(2);
  const afterKill = tablet.start();
  await underWay;
  expect(afterKill.items).toMatchObject([{ stepId: 2, body }]);
  await afterKill.flush();
  const keys = tablet.reached.map(({ key }) => key);
  expect(new Set(keys).size).toBe(1);
});

test('an answer lost before a change of person is sent again by its owner with the same key', async () => {
  const tablet = new Tablet();
  tablet.losesAnswers = true;
  expect(await tablet.sign(2)).toBeNull();
  tablet.losesAnswers = false;
  tablet.personId = ines;
  await tablet.queue.flush();
  tablet.personId = omar;
  await tablet.queue.flush();
  expect(tablet.reached.map(({ by }) => by)).toEqual([omar, omar]);
  expect(tablet.reached[1]?.key).toBe(tablet.reached[0]?.key);
  expect(tablet.queue.items).toEqual([]);
});

test('a refusal on a living network is told at once, and nothing waits', async () => {
  const tablet = new Tablet();
  tablet.refuses = new ApiProblem({ code: 'already-signed', status: 409, detail: 'signed by Ines' });
  await expect(tablet.sign(2)).rejects.toThrow('signed by Ines');
  expect(tablet.queue.items).toEqual([]);
  expect(tablet.queue.parked).toEqual([]);
});

test('a PIN is never written down', async () => {
  const tablet = new Tablet();
  tablet.online = false;
  const signer = { personId: ines, pin: '4711' };
  const who = { personId: omar, person: 'Omar', lotId: 1, stepId: 2, title: 'step 2' };
  await expect(tablet.queue.add({ kind: 'sign', ...who, body: { ...body, signer } })).rejects.toThrow();
  expect(tablet.start().items).toEqual([]);
});

test('In, Out and the signature of one load arrive in the order they were done', async () => {
  const tablet = new Tablet();
  tablet.online = false;
  const who = { personId: omar, person: 'Omar', lotId: 1, stepId: 2, title: 'step 2' };
  await tablet.queue.add({ kind: 'in', ...who, happenedAtMs: Date.now() - 60_000 });
  await tablet.queue.add({ kind: 'out', ...who, happenedAtMs: Date.now() });
  await tablet.sign(2);
  tablet.online = true;
  await tablet.queue.flush();
  expect(tablet.reached.map(({ call }) => call)).toEqual(['in', 'out', 'sign']);
});

test('storage that holds nonsense opens as an empty queue', () => {
  const queue = new TankQueue({
    calls: {} as TankCalls,
    storage: { getItem: () => '{"half', setItem: () => undefined },
    personId: () => omar,
  });
  expect(queue.items).toEqual([]);
});
