import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

export interface Interruption {
  fromH: number;
  /** Null while it lasts. */
  toH: number | null;
}

/**
 * Hours of exposure between the start and a moment: the clock less every interruption, each part of it once.
 *
 * Hours since the start, 0 to 1,000,000.
 * Errors: `impossible` for an interruption that ends before it begins, `out-of-range` or `not-finite`.
 *
 * @example
 * exposedHours({ untilH: 96, interruptions: [{ fromH: 24, toH: 30 }, { fromH: 90, toH: null }] }) // 84
 */
export function exposedHours(input: { untilH: number; interruptions: readonly Interruption[] }): number {
  const range = { min: 0, max: 1e6 };
  const untilH = checkNumber('untilH', input.untilH, range);
  const pauses = input.interruptions.map(({ fromH, toH }) => {
    const from = checkNumber('interruptions.fromH', fromH, range);
    const to = toH === null ? untilH : checkNumber('interruptions.toH', toH, range);
    if (toH !== null && to < from)
      throw new CalcError({
        ...{ code: 'impossible', argument: 'interruptions.toH', given: to },
        allowed: `not before its beginning at ${from} h`,
      });
    return { from: Math.min(from, untilH), to: Math.min(to, untilH) };
  });
  let exposed = untilH;
  let reached = 0;
  for (const { from, to } of pauses.toSorted((one, other) => one.from - other.from)) {
    exposed -= Math.max(0, to - Math.max(from, reached));
    reached = Math.max(reached, to);
  }
  return exposed;
}
