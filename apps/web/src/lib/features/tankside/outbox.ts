import { parkSignOff, signStep, takeStepIn, takeStepOut } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { session } from '$lib/session.svelte.ts';
import { TankQueue, type TankCalls } from './queue.svelte.ts';

const RETRY_MS = 8000;

const calls: TankCalls = {
  sign: ({ stepId, body, key }) => api(signStep, { params: { id: stepId }, body, idempotencyKey: key }),
  park: async ({ stepId, body, key }) => {
    const { traveler, parked } = await api(parkSignOff, {
      params: { id: stepId },
      body,
      idempotencyKey: key,
    });
    return { traveler, refusal: parked?.refusal ?? null };
  },
  stamp: ({ kind, stepId, agoS, key }) =>
    api(kind === 'in' ? takeStepIn : takeStepOut, {
      params: { id: stepId },
      body: { agoS },
      idempotencyKey: key,
    }),
};

/** The queue of this tablet; Tankside keeps it going while it is open. */
export const outbox = new TankQueue({
  calls,
  storage: localStorage,
  personId: () => session.me?.person.id ?? null,
});

/** Sends what waits whenever it may go; returns what stops it. */
export function keepSending(): () => void {
  const flush = () => void outbox.flush();
  const reload = () => outbox.reload();
  flush();
  addEventListener('online', flush);
  addEventListener('storage', reload);
  const retry = setInterval(flush, RETRY_MS);
  return () => {
    removeEventListener('online', flush);
    removeEventListener('storage', reload);
    clearInterval(retry);
  };
}
