import type { Span } from './plan.ts';

/** When a tank or a supply is taken: spans in order that neither overlap nor touch. */
export class Calendar {
  readonly #taken: { fromS: number; untilS: number }[] = [];

  constructor(busy: readonly Span[] = []) {
    for (const span of busy) this.take(span);
  }

  /** The first moment from `fromS` on that begins a free span of this length. */
  nextFree(fromS: number, lengthS: number): number {
    let start = fromS;
    for (let i = this.#firstEndingAfter(fromS); i < this.#taken.length; i++) {
      const span = this.#taken[i];
      if (!span || span.fromS >= start + lengthS) break;
      start = span.untilS;
    }
    return start;
  }

  /** How long it stays free from a moment at which it is free. */
  freeFor(fromS: number): number {
    const next = this.#taken[this.#firstEndingAfter(fromS)];
    return next ? Math.max(0, next.fromS - fromS) : Infinity;
  }

  take({ fromS, untilS }: Span): void {
    if (untilS <= fromS) return;
    const first = this.#firstEndingAfter(fromS - 1);
    let last = first;
    const merged = { fromS, untilS };
    for (let span = this.#taken[last]; span && span.fromS <= untilS; span = this.#taken[++last]) {
      merged.fromS = Math.min(merged.fromS, span.fromS);
      merged.untilS = Math.max(merged.untilS, span.untilS);
    }
    this.#taken.splice(first, last - first, merged);
  }

  #firstEndingAfter(timeS: number): number {
    let [low, high] = [0, this.#taken.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.#taken[middle]?.untilS ?? Infinity) > timeS) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}
