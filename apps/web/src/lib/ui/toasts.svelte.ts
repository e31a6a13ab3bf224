import { asProblem } from '../problem.ts';

export interface Toast {
  id: number;
  kind: 'good' | 'danger';
  text: string;
}

const STAY_MS = 6000;

/**
 * Short messages that need no answer. Good news takes the place of the good news before it, so that quick work never
 * buries the page; what went wrong stays until it is closed.
 */
class Toasts {
  shown = $state.raw<Toast[]>([]);
  #next = 1;

  /**
   * @example
   * toasts.say('Quotation sent');
   */
  say(text: string) {
    this.shown = this.shown.filter(({ kind }) => kind !== 'good');
    const id = this.#add('good', text);
    setTimeout(() => this.close(id), STAY_MS);
  }

  /**
   * Says why something did not happen.
   *
   * @example
   * catch (error) { toasts.problem(error); }
   */
  problem(error: unknown) {
    const { detail, reference } = asProblem(error);
    this.#add('danger', reference === undefined ? detail : `${detail} Reference: ${reference}.`);
  }

  close(id: number) {
    this.shown = this.shown.filter((toast) => toast.id !== id);
  }

  #add(kind: Toast['kind'], text: string): number {
    const id = this.#next++;
    this.shown = [...this.shown, { id, kind, text }];
    return id;
  }
}

export const toasts = new Toasts();
