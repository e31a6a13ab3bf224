import { checkWhole } from '../check.ts';

/**
 * Places at which a new run starts (after a known addition, a new bath fill): nothing is compared across them. Returns
 * them as a set that always holds 0.
 */
export function checkRestarts(input: readonly number[] | undefined, count: number): ReadonlySet<number> {
  const places = (input ?? []).map((index, i) =>
    checkWhole(`restarts[${i}]`, index, { min: 0, max: count - 1 }),
  );
  return new Set([0, ...places]);
}

/** How many leading points set the limits: all of them unless a smaller number is given. */
export function checkBaseline({
  given,
  count,
  least,
}: {
  given: number | undefined;
  count: number;
  least: number;
}): number {
  return checkWhole('baseline', given ?? count, { min: least, max: count });
}
