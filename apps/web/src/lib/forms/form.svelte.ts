import { type ApiProblem, asProblem } from '../problem.ts';
import { differences, sameValue, valueAt, type Difference } from './path.ts';

/** How an edit finds its way around a clash: what the server sends back, read as the form's values. */
interface Editing<V> {
  version: number;
  /** The values and version of the record in a 412 answer. */
  reread: (current: unknown) => { values: V; version: number };
}

interface Options<V, R> {
  values: V;
  /** Present when the form edits a versioned record. */
  editing?: Editing<V>;
  /** Sends the values; `version` is 0 unless the form is editing. */
  send: (values: V, version: number) => Promise<R>;
  done: (reply: R) => void | Promise<void>;
}

interface Refused {
  path: string;
  message: string;
  /** The first record when the server refused it; the message goes as soon as it changes. */
  value: unknown;
}

export interface Clash<V> {
  differences: Difference[];
  values: V;
  version: number;
}

/** The values themselves, out of reach of what is typed next. */
function copyOf<T>(values: T): T {
  const plain: unknown = $state.snapshot(values);
  return structuredClone(plain) as T;
}

/**
 * One form: what is typed, what the server said about it, and whether it is under way. What is typed stays whatever the
 * server answers.
 *
 * @example
 * const form = new FormState({
 *   values: { name: '', notes: '' },
 *   send: (body) => api(createCustomer, { body }),
 *   done: (customer) => goto(`/customers/${customer.id}`),
 * });
 */
export class FormState<V extends object, R> {
  values: V = $state({} as V);
  busy = $state(false);
  clash = $state.raw<Clash<V> | null>(null);
  #saved: V = $state.raw({} as V);
  #problem = $state.raw<ApiProblem | null>(null);
  #refused = $state.raw<Refused[]>([]);
  #version = 0;
  readonly #options: Options<V, R>;

  constructor(options: Options<V, R>) {
    this.#options = options;
    this.reset(options.values, options.editing?.version);
  }

  /** Whether something was typed that is not saved. */
  get dirty(): boolean {
    return !sameValue(this.values, this.#saved);
  }

  /** Starts over from these values, as after loading a record anew. */
  reset(values: V, version = 0) {
    this.values = copyOf(values);
    this.#saved = copyOf(values);
    this.#version = version;
    this.#forget();
  }

  /** The version of the record that the form began from; 0 for a new one. */
  get version(): number {
    return this.#version;
  }

  /** Puts back what was kept half-written. If the record changed since, saving shows the clash. */
  resume(values: object, version: number) {
    this.values = { ...this.values, ...values };
    this.#version = version;
    this.#forget();
  }

  /** What the server says is wrong with a field, until the field changes. */
  errorOf(path: string): string | undefined {
    return this.#standing.find((refused) => refused.path === path)?.message;
  }

  /**
   * Name and error of a field, to be spread onto it.
   *
   * @example
   * <TextField label="Name" bind:value={form.values.name} {...form.field('name')} />
   */
  field(path: string): { name: string; error: string | undefined } {
    return { name: path, error: this.errorOf(path) };
  }

  /** What was refused and has not changed since. */
  get #standing(): Refused[] {
    return this.#refused.filter(({ path, value }) => sameValue(valueAt(this.values, path), value));
  }

  /** What the server said, until every field it named has changed. */
  get problem(): ApiProblem | null {
    const mended = this.#refused.length > 0 && this.#standing.length === 0;
    return mended ? null : this.#problem;
  }

  get issues(): { path: string; message: string }[] {
    return this.#standing;
  }

  async submit(): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    this.#forget();
    try {
      const sent = copyOf(this.values);
      const reply = await this.#options.send(sent, this.#version);
      this.#saved = sent;
      await this.#options.done(reply);
    } catch (error) {
      this.#take(asProblem(error));
    } finally {
      this.busy = false;
    }
  }

  /** Sends again over what somebody else saved meanwhile. */
  async keepMine(): Promise<void> {
    if (!this.clash) return;
    this.#version = this.clash.version;
    await this.submit();
  }

  /** Drops what was typed here for what somebody else saved meanwhile. */
  takeTheirs() {
    if (this.clash) this.reset(this.clash.values, this.clash.version);
  }

  #forget() {
    this.#problem = null;
    this.clash = null;
    this.#refused = [];
  }

  #take(problem: ApiProblem) {
    this.#problem = problem;
    this.#refused = problem.issues.map(({ path, message }) => ({
      path,
      message,
      value: $state.snapshot(valueAt(this.values, path)),
    }));
    const { editing } = this.#options;
    if (problem.code !== 'version-conflict' || !editing) return;
    const theirs = editing.reread(problem.current);
    this.clash = { ...theirs, differences: differences($state.snapshot(this.values), theirs.values) };
  }
}
