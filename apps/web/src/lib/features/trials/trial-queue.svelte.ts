import {
  liftTrialStrip,
  pauseTrialRun,
  resumeTrialRun,
  takeTrialIn,
  takeTrialOut,
  type TrialRun,
} from '@huelot/contracts';
import { api, asProblem } from '$lib/api.ts';
import { serverNow } from '$lib/server-clock.ts';
import { toasts } from '$lib/ui/feedback/toasts.svelte.ts';
import type { PendingStamp } from './trial-clock.ts';

const RETRY_MS = 4000;

function send(id: number, stamp: PendingStamp): Promise<TrialRun> {
  const params = { id };
  // By how long ago it was, so that a tablet that was away stamps when it really happened.
  const agoS = Math.max(0, (serverNow() - stamp.atMs) / 1000);
  switch (stamp.kind) {
    case 'in':
      return api(takeTrialIn, { params, body: { agoS } });
    case 'out':
      return api(takeTrialOut, { params, body: { agoS } });
    case 'resume':
      return api(resumeTrialRun, { params, body: { agoS } });
    case 'lift':
      return api(liftTrialStrip, { params, body: { agoS, position: stamp.position } });
    case 'pause':
      return api(pauseTrialRun, {
        params,
        body: { agoS, reason: stamp.reason, supplyOff: stamp.supplyOff },
      });
  }
}

/**
 * The stamps of one trial at this tablet, in the order in which they were given: kept through a reload, sent one after the
 * other, and tried again while there is no network. One that the server refuses is dropped and said.
 */
export class TrialQueue {
  items: readonly PendingStamp[] = $state.raw([]);
  #sending = false;
  readonly #id: number;
  readonly #key: string;
  readonly #onreply: (run: TrialRun) => void;

  constructor(id: number, onreply: (run: TrialRun) => void) {
    this.#id = id;
    this.#key = `huelot.trial.${id}`;
    this.#onreply = onreply;
    this.items = kept(this.#key);
  }

  add(stamp: PendingStamp): void {
    this.#keep([...this.items, stamp]);
    void this.flush();
  }

  async flush(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    try {
      for (let [first] = this.items; first !== undefined; [first] = this.items) {
        try {
          this.#onreply(await send(this.#id, first));
        } catch (error) {
          if (asProblem(error).status === 0 || asProblem(error).status >= 500) return;
          toasts.problem(error);
        }
        this.#keep(this.items.slice(1));
      }
    } finally {
      this.#sending = false;
    }
  }

  /** Tries again while somebody looks; returns what stops it. */
  run(): () => void {
    const flush = () => void this.flush();
    flush();
    addEventListener('online', flush);
    const retry = setInterval(flush, RETRY_MS);
    return () => {
      removeEventListener('online', flush);
      clearInterval(retry);
    };
  }

  #keep(items: readonly PendingStamp[]): void {
    this.items = items;
    if (items.length === 0) localStorage.removeItem(this.#key);
    else localStorage.setItem(this.#key, JSON.stringify(items));
  }
}

function kept(key: string): PendingStamp[] {
  try {
    const items: unknown = JSON.parse(localStorage.getItem(key) ?? '[]');
    return Array.isArray(items) ? (items as PendingStamp[]) : [];
  } catch {
    return [];
  }
}
