import { asProblem } from '../../problem.ts';
import { problemSentences } from '../../problem-words.ts';

export interface Toast {
  id: number;
  kind: 'good' | 'danger';
  text: string;
}

const TOAST_DURATION_MS = 6000;

/**
 * Short messages that need no answer. Good news replaces the good news before it, so that quick work never
 * buries the page; what went wrong stays until it is closed.
 */
class Toasts {
  items = $state.raw<Toast[]>([]);
  #next = 1;

  /**
   * @example
   * toasts.success('Quotation sent');
   */
  success(text: string) {
    this.items = this.items.filter(({ kind }) => kind !== 'good');
    const id = this.#add('good', text);
    setTimeout(() => this.close(id), TOAST_DURATION_MS);
  }

  /**
   * Says why something did not happen.
   *
   * @example
   * catch (error) { toasts.problem(error); }
   */
  problem(error: unknown) {
    const problem = asProblem(error);
    const { reference } = problem;
    const said = problemSentences(problem).join(' ');
    this.#add('danger', reference === undefined ? said : `${said} Reference: ${reference}.`);
  }

  close(id: number) {
    this.items = this.items.filter((toast) => toast.id !== id);
  }

  #add(kind: Toast['kind'], text: string): number {
    const id = this.#next++;
    this.items = [...this.items, { id, kind, text }];
    return id;
  }
}

export const toasts = new Toasts();
