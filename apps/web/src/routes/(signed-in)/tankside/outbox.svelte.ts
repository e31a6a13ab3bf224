import { signStep, type Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import { api, ApiProblem, asProblem } from '$lib/api.ts';

export type SignOffBody = z.input<typeof signStep.body>;

/** A sign-off that is not yet on the server, or that the server refused. */
export interface Waiting {
  key: string;
  personId: number;
  lotId: number;
  stepId: number;
  title: string;
  body: SignOffBody;
  /** Why the server said no; it stays here until somebody reads it and decides. */
  refused: string | null;
}

const SHELF = 'huelot.tankside.outbox';
const RETRY_MS = 8000;

/**
 * Sign-offs on their way. What is signed while the network is down is kept in the browser and sent, in order, when it
 * is back; each carries a key of its own, so that a resend after a lost answer changes nothing.
 */
class Outbox {
  items = $state.raw<Waiting[]>([]);
  #sending = false;

  constructor() {
    if (typeof localStorage === 'undefined') return;
    this.items = readShelf();
    addEventListener('online', () => void this.flush());
    addEventListener('storage', (event) => {
      if (event.key === SHELF) this.items = readShelf();
    });
    setInterval(() => void this.flush(), RETRY_MS);
  }

  /** Sign-offs of a lot that are still here, in the order they were signed. */
  of(lotId: number): Waiting[] {
    return this.items.filter((item) => item.lotId === lotId);
  }

  /**
   * Sends a sign-off; `null` means that the network is down and it waits here. A refusal is thrown.
   *
   * @example
   * const traveler = await outbox.sign({ personId, lotId, stepId, title, body });
   */
  async sign(of: Omit<Waiting, 'key' | 'refused'>): Promise<Traveler | null> {
    const item: Waiting = { ...of, key: crypto.randomUUID(), refused: null };
    try {
      if (this.of(of.lotId).length > 0) throw new ApiProblem({ code: 'offline', detail: '' });
      return await send(item);
    } catch (error) {
      // A PIN is never written down in the browser: whoever needs one waits for the network.
      const holdsPin = of.body.signer !== null || Boolean(of.body.override?.by);
      if (asProblem(error).code !== 'offline' || holdsPin) throw error;
      this.#keep([...this.items, item]);
      return null;
    }
  }

  /** Sends what waits, oldest first; stops at the first that finds no network. */
  async flush(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    try {
      for (const item of this.items.filter(({ refused }) => refused === null)) {
        try {
          await send(item);
          this.drop(item.key);
        } catch (error) {
          const problem = asProblem(error);
          if (problem.code === 'offline' || problem.code === 'not-signed-in' || problem.status >= 500) return;
          this.#keep(
            this.items.map((other) =>
              other.key === item.key ? { ...other, refused: problem.detail } : other,
            ),
          );
        }
      }
    } finally {
      this.#sending = false;
    }
  }

  /** Takes a sign-off out: it arrived, or somebody read why it was refused. */
  drop(key: string) {
    this.#keep(this.items.filter((item) => item.key !== key));
  }

  #keep(items: Waiting[]) {
    this.items = items;
    localStorage.setItem(SHELF, JSON.stringify(items));
  }
}

const send = ({ stepId, body, key }: Waiting) =>
  api(signStep, { params: { id: stepId }, body, idempotencyKey: key });

function readShelf(): Waiting[] {
  const text = localStorage.getItem(SHELF);
  return text === null ? [] : (JSON.parse(text) as Waiting[]);
}

export const outbox = new Outbox();
