import { checkNumber, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import { bisect } from '../numeric/root.ts';
import { logChoose, logFactorial } from '../numeric/special-functions.ts';

/** How good the lot is said to be; what is given decides the distribution. */
export type LotQuality =
  | { fractionNonconforming: number }
  | { nonconformitiesPer100: number }
  | { lotSize: number; nonconformingInLot: number };

interface PlanNumbers {
  n: number;
  ac: number;
  re?: number;
}

/**
 * Probability that a single sampling plan accepts a lot of stated quality: one point of its operating characteristic.
 * With a fraction nonconforming (0 to 1) of a large lot or process the count is binomial; with nonconformities per 100
 * pieces it is Poisson; with so many nonconforming pieces in a lot of known size it is hypergeometric, which is the one
 * to use when the sample is more than about a tenth of the lot.
 *
 * Takes `n`, `ac` and `re` as `samplingPlan` returns them; where a reduced plan leaves a gap between Ac and Re, a count in
 * it accepts the lot, so the probability is that of at most re - 1. Valid for n and ac up to 100,000.
 * Source: MIL-STD-105E (1989) 4.9 and the definitions of the three distributions.
 * Errors: `out-of-range`, `not-finite`; `impossible` unless exactly one statement of quality is given, or when the sample
 * is larger than the lot.
 *
 * @example
 * acceptanceProbability({ n: 80, ac: 2, fractionNonconforming: 0.02 }) // { probability: 0.784419, distribution: 'binomial' }
 */
export function acceptanceProbability(input: PlanNumbers & LotQuality): {
  probability: number;
  distribution: 'binomial' | 'Poisson' | 'hypergeometric';
} {
  const { n, most } = checkPlan(input);
  if (stated(input) !== 1) {
    throw new CalcError({
      code: 'impossible',
      argument: 'fractionNonconforming',
      given: Object.keys(input).join(', '),
      allowed: 'exactly one of fractionNonconforming, nonconformitiesPer100, nonconformingInLot with lotSize',
    });
  }
  if ('fractionNonconforming' in input) {
    const p = checkNumber('fractionNonconforming', input.fractionNonconforming, { min: 0, max: 1 });
    return { probability: binomialAtMost({ most, n, p }), distribution: 'binomial' };
  }
  if ('nonconformitiesPer100' in input) {
    const rate = checkNumber('nonconformitiesPer100', input.nonconformitiesPer100, { min: 0 });
    return { probability: poissonAtMost({ most, mean: (n * rate) / 100 }), distribution: 'Poisson' };
  }
  const lotSize = checkWhole('lotSize', input.lotSize, { min: n });
  const bad = checkWhole('nonconformingInLot', input.nonconformingInLot, { min: 0, max: lotSize });
  return { probability: hypergeometricAtMost({ most, n, lotSize, bad }), distribution: 'hypergeometric' };
}

/**
 * The quality that a single sampling plan accepts with the stated probability, read backwards from its operating
 * characteristic: at 0.95 the producer's, at 0.10 the consumer's risk quality. Given as fraction nonconforming (binomial)
 * and as nonconformities per 100 pieces (Poisson).
 *
 * Valid for 0 < probability < 1. A plan that accepts whatever it finds (`ac` not below `n`) has no binomial answer: null.
 * Source: as for `acceptanceProbability`. Errors: `out-of-range`, `not-finite`.
 *
 * @example
 * qualityAtAcceptance({ n: 80, ac: 2, probability: 0.1 }) // { fractionNonconforming: 0.06516, nonconformitiesPer100: 6.6529 }
 */
export function qualityAtAcceptance(input: PlanNumbers & { probability: number }): {
  fractionNonconforming: number | null;
  nonconformitiesPer100: number;
} {
  const { n, most } = checkPlan(input);
  const probability = checkNumber('probability', input.probability, { above: 0, below: 1 });
  // At this mean even the smallest positive probability of at most `most` is passed.
  const highestMean = 2 * most + 2000;
  return {
    fractionNonconforming:
      most >= n ? null : bisect({ f: (p) => binomialAtMost({ most, n, p }) - probability, low: 0, high: 1 }),
    nonconformitiesPer100:
      (bisect({ f: (mean) => poissonAtMost({ most, mean }) - probability, low: 0, high: highestMean }) *
        100) /
      n,
  };
}

/** Far above any printed plan. */
const LARGEST = 100_000;

/** Names the highest count that accepts; Re - 1 where a reduced plan leaves a gap. */
function checkPlan(input: PlanNumbers): { n: number; most: number } {
  const n = checkWhole('n', input.n, { min: 1, max: LARGEST });
  const ac = checkWhole('ac', input.ac, { min: 0, max: LARGEST });
  return { n, most: checkWhole('re', input.re ?? ac + 1, { min: ac + 1, max: LARGEST + 1 }) - 1 };
}

const stated = (input: object): number =>
  ['fractionNonconforming', 'nonconformitiesPer100', 'nonconformingInLot'].filter((key) => key in input)
    .length;

/** Adds up probabilities given as logarithms, which neither overflow nor vanish for large samples. */
function atMost(most: number, logProbability: (k: number) => number): number {
  let total = 0;
  for (let k = 0; k <= most; k++) total += Math.exp(logProbability(k));
  return Math.min(total, 1);
}

function binomialAtMost({ most, n, p }: { most: number; n: number; p: number }): number {
  if (most >= n || p === 0) return 1;
  if (p === 1) return 0;
  return atMost(most, (k) => logChoose(n, k) + k * Math.log(p) + (n - k) * Math.log1p(-p));
}

function poissonAtMost({ most, mean }: { most: number; mean: number }): number {
  if (mean === 0) return 1;
  return atMost(most, (k) => k * Math.log(mean) - mean - logFactorial(k));
}

interface Draw {
  most: number;
  n: number;
  lotSize: number;
  bad: number;
}

function hypergeometricAtMost({ most, n, lotSize, bad }: Draw): number {
  if (most >= Math.min(n, bad)) return 1;
  return atMost(most, (k) => logChoose(bad, k) + logChoose(lotSize - bad, n - k) - logChoose(lotSize, n));
}
