import type { UnprovedWord } from '@huelot/contracts';
import { session } from '$lib/session.svelte.ts';

/** What is typed where work goes on without evidence: the reason, and whose word it is. */
export class Word {
  reason = $state('');
  personId = $state<number | null>(null);
  pin = $state('');

  /** Whether whoever is signed in may say it; else somebody else proves it with a PIN. */
  get isMine(): boolean {
    return session.may('evidence.override');
  }

  /** The word as it is sent; the PIN is not kept. */
  take(): UnprovedWord {
    const { reason, personId, pin } = this;
    this.pin = '';
    return { reason, by: personId === null ? null : { personId, pin } };
  }
}
