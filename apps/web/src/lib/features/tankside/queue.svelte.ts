import type { parkSignOff, signStep, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import { ApiProblem, asProblem } from '$lib/problem.ts';
import { newKey } from '$lib/new-key.ts';
import { serverNow } from '$lib/server-clock.ts';

export type SignOffBody = z.input<typeof signStep.body>;
type ParkBody = z.input<typeof parkSignOff.body>;

interface Common {
  /** Names this write for ever: resent with the same key it changes nothing. */
  key: string;
  personId: number;
  person: string;
  lotId: number;
  stepId: number;
  title: string;
  /** Why the server could not take it; it stays here. */
  stuck: string | null;
}
interface SignOff {
  kind: 'sign';
  body: SignOffBody;
}
interface Stamp {
  kind: 'in' | 'out';
  /** By the clock of the server, as far as the tablet knows it. */
  happenedAtMs: number;
}
/** Something done at the tank that is not yet on the server. Only the person who did it can send it. */
export type Waiting = Common & (SignOff | Stamp);
type NewWaiting = Omit<Common, 'key' | 'stuck'> & (SignOff | Stamp);

/** The calls the queue makes. */
export interface TankCalls {
  sign(item: { stepId: number; body: SignOffBody; key: string }): Promise<Traveler>;
  park(item: {
    stepId: number;
    body: ParkBody;
    key: string;
  }): Promise<{ traveler: Traveler; refusal: string | null }>;
  stamp(item: { kind: 'in' | 'out'; stepId: number; agoS: number; key: string }): Promise<Traveler>;
}
interface Environment {
  calls: TankCalls;
  storage: Pick<Storage, 'getItem' | 'setItem'>;
  /** Who is signed in. */
  personId: () => number | null;
}

const STORAGE_KEY = 'huelot.tankside.outbox';
const NOTICES_KEY = 'huelot.tankside.parked';

/** Told until it is read: what was handed to quality. */
export interface ParkedNotice {
  key: string;
  title: string;
  refusal: string;
}

/**
 * What was done at the tank and is on its way to the server. It is written down before it is sent, so that neither a
 * dead network nor a dead browser loses it; sent in order, under the name of the person who did it and no other. What
 * the rules refuse by then goes to quality with all its figures; what cannot even be handed over stays.
 */
export class TankQueue {
  items = $state.raw<Waiting[]>([]);
  parked = $state.raw<ParkedNotice[]>([]);
  /** The newest answer of the server: a lot as it stands. */
  latest = $state.raw<Traveler | null>(null);
  readonly #environment: Environment;
  /** Under way for the first time: whoever pressed the button hears what comes of them. */
  #first: string[] = [];
  #flushing: Promise<void> | null = null;
  #again = false;

  constructor(environment: Environment) {
    this.#environment = environment;
    this.reload();
  }

  /** Reads what another tab or an earlier run left. */
  reload() {
    this.items = this.#stored();
    this.parked = readList<ParkedNotice>(this.#environment.storage.getItem(NOTICES_KEY));
  }

  ofLot(lotId: number): Waiting[] {
    return this.items.filter((item) => item.lotId === lotId);
  }

  /** What somebody else did at this tablet: it waits until that person is signed in. */
  get ofOthers(): Waiting[] {
    return this.items.filter(({ personId }) => personId !== this.#environment.personId());
  }

  /**
   * Sends what was done; `null` means that it waits here. A refusal is thrown.
   *
   * @example
   * const traveler = await queue.add({ kind: 'sign', personId, person, lotId, stepId, title, body });
   */
  async add(done: NewWaiting): Promise<Traveler | null> {
    const item = { ...done, key: newKey(), stuck: null } as Waiting;
    const behind = this.ofLot(item.lotId).length > 0;
    // A PIN is never written down in the browser: whoever needs one waits for the network.
    const holdsPin = item.kind === 'sign' && item.body.signer !== null;
    if (holdsPin) {
      if (behind)
        throw new ApiProblem({
          code: 'offline',
          detail: 'Earlier steps of this lot are still waiting to be sent: a PIN can be checked after that.',
        });
      return this.#send(item);
    }
    this.#change((items) => [...items, item]);
    if (behind) {
      void this.flush();
      return null;
    }
    this.#first.push(item.key);
    try {
      const reply = await this.#send(item);
      this.#drop(item.key);
      return reply;
    } catch (error) {
      if (waits(asProblem(error))) return null;
      this.#drop(item.key);
      throw error;
    } finally {
      this.#first = this.#first.filter((key) => key !== item.key);
    }
  }

  /** Sends what waits, oldest first; stops at the first that finds no network or nobody signed in. */
  flush(): Promise<void> {
    if (this.#flushing !== null) {
      this.#again = true;
      return this.#flushing;
    }
    this.#flushing = this.#flushAll().finally(() => (this.#flushing = null));
    return this.#flushing;
  }

  async #flushAll() {
    do {
      this.#again = false;
      await this.#flushOnce();
    } while (this.#again);
  }

  async #flushOnce() {
    const stopped: number[] = [];
    for (const item of this.items) {
      const mine = item.personId === this.#environment.personId();
      // What comes after a colleague's step of the same lot waits with it: steps are signed in turn.
      if (!mine || stopped.includes(item.lotId) || this.#first.includes(item.key)) {
        stopped.push(item.lotId);
        continue;
      }
      const fate = await this.#settle(item);
      if (fate === 'wait') return;
      if (fate === 'stuck') stopped.push(item.lotId);
    }
  }

  /** Takes back stamps of a step that were not sent yet. */
  forgetStamps(stepId: number) {
    this.#change((items) => items.filter((item) => item.kind === 'sign' || item.stepId !== stepId));
  }

  /** Somebody read what was handed to quality. */
  readNotice(key: string) {
    this.parked = this.parked.filter((notice) => notice.key !== key);
    this.#environment.storage.setItem(NOTICES_KEY, JSON.stringify(this.parked));
  }

  async #settle(item: Waiting): Promise<'sent' | 'wait' | 'stuck'> {
    try {
      await this.#send(item);
      this.#drop(item.key);
      return 'sent';
    } catch (error) {
      const problem = asProblem(error);
      if (waits(problem)) return 'wait';
      // A stamp that came too late changes nothing that was signed.
      if (item.kind !== 'sign') {
        this.#drop(item.key);
        return 'sent';
      }
      return this.#handOver(item);
    }
  }

  /** What was refused was done all the same: quality decides about it. */
  async #handOver(item: Extract<Waiting, { kind: 'sign' }>): Promise<'sent' | 'wait' | 'stuck'> {
    const body = { ...item.body, personId: item.personId, signer: null };
    try {
      const { traveler, refusal } = await this.#environment.calls.park({
        stepId: item.stepId,
        body,
        key: `${item.key}-parked`,
      });
      if (refusal !== null) {
        this.parked = [...this.parked, { key: item.key, title: item.title, refusal }];
        this.#environment.storage.setItem(NOTICES_KEY, JSON.stringify(this.parked));
      }
      this.latest = traveler;
      this.#drop(item.key);
      return 'sent';
    } catch (error) {
      const problem = asProblem(error);
      if (waits(problem)) return 'wait';
      this.#change((items) =>
        items.map((other) => (other.key === item.key ? { ...other, stuck: problem.detail } : other)),
      );
      return 'stuck';
    }
  }

  async #send(item: Waiting): Promise<Traveler> {
    const { calls } = this.#environment;
    const { stepId, key } = item;
    const reply =
      item.kind === 'sign'
        ? await calls.sign({ stepId, key, body: { ...item.body, personId: item.personId } })
        : await calls.stamp({
            kind: item.kind,
            stepId,
            key,
            agoS: Math.max(0, Math.round((serverNow() - item.happenedAtMs) / 1000)),
          });
    this.latest = reply;
    return reply;
  }

  #drop(key: string) {
    this.#change((items) => items.filter((item) => item.key !== key));
  }

  /** Starts from what is in the storage: another tab of this tablet writes there too. */
  #change(change: (items: Waiting[]) => Waiting[]) {
    const items = change(this.#stored());
    this.#environment.storage.setItem(STORAGE_KEY, JSON.stringify(items));
    this.items = items;
  }

  #stored(): Waiting[] {
    // What an older version of this page left knows no kind: all of it were sign-offs.
    return readList<Waiting>(this.#environment.storage.getItem(STORAGE_KEY)).map((item) =>
      'kind' in item ? item : { ...(item as SignOff & Common), kind: 'sign', person: '', stuck: null },
    );
  }
}

/** No answer yet, nobody or somebody else signed in, or a server in trouble: later it may go. */
const waits = ({ code, status }: ApiProblem) =>
  ['offline', 'not-signed-in', 'other-person', 'too-many-requests', 'unreadable', 'in-progress'].includes(
    code,
  ) || status >= 500;

function readList<T>(text: string | null): T[] {
  if (text === null) return [];
  try {
    const list: unknown = JSON.parse(text);
    return Array.isArray(list) ? (list as T[]) : [];
  } catch {
    return [];
  }
}
