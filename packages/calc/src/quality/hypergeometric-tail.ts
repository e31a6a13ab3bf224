import { checkNumber, checkWhole } from '../check.ts';
import { normalAbove } from '../numeric/normal.ts';
import { bisect } from '../numeric/root.ts';
import { logChoose } from '../numeric/special-functions.ts';

/** Far above any history of lots. */
const LARGEST = 100_000;

/**
 * Probability that a draw by chance holds at least so many with a trait: of `total` lots `withTrait` have it, and `drawnWithTrait` of the
 * `drawn` ones do. It is the upper tail of the hypergeometric distribution, the one-sided exact test of R. A. Fisher: a small one says
 * that the trait goes along with being drawn more than chance would have it, not why.
 *
 * Source: R. A. Fisher, The Design of Experiments (1935), chapter II: four cups of eight told right by chance, once in 70.
 * Valid for up to 100,000 in all. Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * hypergeometricTail({ total: 8, withTrait: 4, drawn: 4, drawnWithTrait: 4 }) // { probability: 0.0142857 }
 */
export function hypergeometricTail(input: {
  total: number;
  withTrait: number;
  drawn: number;
  drawnWithTrait: number;
}): { probability: number } {
  const total = checkWhole('total', input.total, { min: 1, max: LARGEST });
  const withTrait = checkWhole('withTrait', input.withTrait, { min: 0, max: total });
  const drawn = checkWhole('drawn', input.drawn, { min: 0, max: total });
  const most = Math.min(withTrait, drawn);
  const least = Math.max(0, withTrait + drawn - total);
  const from = checkWhole('drawnWithTrait', input.drawnWithTrait, { min: least, max: most });
  if (from === least) return { probability: 1 };
  let probability = 0;
  for (let count = from; count <= most; count++)
    probability += Math.exp(
      logChoose(withTrait, count) + logChoose(total - withTrait, drawn - count) - logChoose(total, drawn),
    );
  return { probability: Math.min(probability, 1) };
}

/** Beyond it the tail of the normal distribution is smaller than a double holds. */
const FARTHEST = 37;

/**
 * How many standard deviations from its mean a normal value lies that is as rare as a tail probability says, both ways counted: the scale on
 * which a tail and a score are told beside each other. From 0 for a probability of 1 to 37.
 *
 * Source: the definition of the normal distribution; 0.05 is 1.96, as every table of it says.
 * Valid for 0 < probability <= 1. Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * scoreOfTail({ probability: 0.05 }) // { score: 1.959964 }
 */
export function scoreOfTail(input: { probability: number }): { score: number } {
  const probability = checkNumber('probability', input.probability, { above: 0, max: 1 });
  if (2 * normalAbove(FARTHEST) >= probability) return { score: FARTHEST };
  return { score: bisect({ f: (z) => probability - 2 * normalAbove(z), low: 0, high: FARTHEST }) };
}
