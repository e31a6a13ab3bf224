import { AsyncLocalStorage } from 'node:async_hooks';
import type { SqlExecutor, Tx } from './queryable.ts';

/** A transaction that stays open until it is told to end. */
export interface Held {
  readonly tx: Tx;
  commit(): Promise<void>;
  rollback(): Promise<void>;
}

/**
 * All that one request with a key does to the database: one transaction, from its first write until its answer is
 * there, so that the write and the answer to it are kept together or not at all. What is read before the first write,
 * and what takes time without writing, such as checking a password or taking a file in, holds no connection.
 */
export class Unit {
  #held: Held | null = null;
  #isOver = false;
  #afterwards: (() => void)[] = [];
  readonly #claim: (execute: SqlExecutor) => Promise<void>;

  /** `claim` is the first that is done in the transaction. */
  constructor(claim: (execute: SqlExecutor) => Promise<void>) {
    this.#claim = claim;
  }

  get isOver(): boolean {
    return this.#isOver;
  }
  get tx(): Tx | null {
    return this.#held?.tx ?? null;
  }

  /** Opens the transaction and does `work` in it; where that fails the transaction is dropped and may be begun anew. */
  async begin<T>(open: () => Promise<Held>, work: (tx: Tx) => Promise<T>): Promise<T> {
    const held = await open();
    this.#held = held;
    try {
      await this.#claim(held.tx.execute);
      return await work(held.tx);
    } catch (error) {
      this.#held = null;
      await held.rollback();
      throw error;
    }
  }

  afterwards(work: () => void): void {
    this.#afterwards.push(work);
  }

  /** Keeps what was done. */
  async commit(): Promise<void> {
    const held = this.#end();
    try {
      await held?.commit();
    } catch (error) {
      await held?.rollback();
      throw error;
    }
    for (const work of this.#afterwards) work();
  }

  /** Drops what was done. */
  async rollback(): Promise<void> {
    await this.#end()?.rollback();
  }

  /** Takes the transaction out of the unit, so that it ends once: a commit that failed is not dropped a second time. */
  #end(): Held | null {
    this.#isOver = true;
    const held = this.#held;
    this.#held = null;
    return held;
  }
}

const units = new AsyncLocalStorage<Unit | undefined>();

/** The unit of the request that is being answered; null where it has no key. */
export function unitUnderWay(): Unit | null {
  const unit = units.getStore();
  return unit === undefined || unit.isOver ? null : unit;
}

/** Its transaction, once it was begun. */
export const openUnit = (): Tx | null => unitUnderWay()?.tx ?? null;

export const withUnit = <T>(unit: Unit, work: () => Promise<T>): Promise<T> => units.run(unit, work);

/**
 * Does `work` in transactions of its own, whatever becomes of the request: a counted attempt stays counted.
 *
 * @example
 * await apart(() => countAttempt(db, attempt));
 */
export const apart = <T>(work: () => Promise<T>): Promise<T> => units.run(undefined, work);

/** Does `work` once what the request wrote is kept; at once where it is kept already. */
export function onceKept(work: () => void): void {
  const unit = unitUnderWay();
  if (unit === null) work();
  else unit.afterwards(() => units.run(undefined, work));
}
