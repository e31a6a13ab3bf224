import { checkNumber } from '../check.ts';

/** When something began that is only looked for now and then. */
export interface EventSpan {
  /** Last look that showed nothing. */
  afterH: number;
  /** First look that showed it; null where none did. */
  byH: number | null;
}

/**
 * When a specimen began to corrode: after the last look that showed nothing and by the first that showed corrosion. A day
 * on which nobody looked makes the span wider; nothing narrows it.
 *
 * Hours of exposure, 0 to 1,000,000, in any order. A look without corrosion after one with it does not count.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * firstCorrosion({ looks: [{ exposedH: 24, corroded: false }, { exposedH: 72, corroded: true }] }) // { afterH: 24, byH: 72 }
 */
export function firstCorrosion(input: {
  looks: readonly { exposedH: number; corroded: boolean }[];
}): EventSpan {
  const looks = input.looks.map(({ exposedH, corroded }) => ({
    exposedH: checkNumber('looks.exposedH', exposedH, { min: 0, max: 1e6 }),
    corroded,
  }));
  const seen = looks.filter(({ corroded }) => corroded).map(({ exposedH }) => exposedH);
  const byH = seen.length === 0 ? null : Math.min(...seen);
  const clear = looks.filter(({ corroded, exposedH }) => !corroded && (byH === null || exposedH < byH));
  return { afterH: Math.max(0, ...clear.map(({ exposedH }) => exposedH)), byH };
}
