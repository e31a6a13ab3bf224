import type { ProofFor } from '@huelot/contracts';

/** Whether a signature, or a change of the account, waits for a credential to be given again. Only `api.ts` asks, only the dialog answers. */
class Proving {
  asking = $state.raw<ProofFor | null>(null);
  #answer: ((confirmed: boolean) => void) | null = null;

  /** Opens the dialog; true once the credential was right, false when the person would rather not. */
  ask(what: ProofFor): Promise<boolean> {
    this.#answer?.(false);
    this.asking = what;
    return new Promise((resolve) => (this.#answer = resolve));
  }

  answer(confirmed: boolean) {
    this.asking = null;
    this.#answer?.(confirmed);
    this.#answer = null;
  }
}

export const proving = new Proving();
