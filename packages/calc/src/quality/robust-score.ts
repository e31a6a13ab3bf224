import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

/** What the median absolute deviation of a normal distribution is of its standard deviation, and the mean one its inverse of. */
const MEDIAN_SHARE = 0.6745;
const MEAN_SHARE = 1.2533;
const FEWEST = 5;

/**
 * How far a value lies from the middle of its history, in standard deviations that outliers of the history do not widen: the modified
 * z-score 0.6745 (x - median) / MAD, where MAD is the median absolute deviation from the median. Where more than half of the history is
 * one value the mean absolute deviation takes its place; where all of it is, `score` is null. `median` and `spread` are in the unit of
 * the values; `spread` is what counts as one standard deviation. A score beyond 3.5 is commonly called an outlier.
 *
 * Source: B. Iglewicz and D. C. Hoaglin, How to Detect and Handle Outliers (1993), as NIST/SEMATECH e-Handbook 1.3.5.17 gives it.
 * Valid for a history of 5 values and more. Errors: `not-finite`; `impossible` with fewer.
 *
 * @example
 * robustScore({ value: 245.57, history: [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57] }) // { score: 29.96, median: 201.37, spread: 1.475 }
 */
export function robustScore(input: { value: number; history: readonly number[] }): {
  score: number | null;
  median: number;
  spread: number;
} {
  const value = checkNumber('value', input.value);
  const history = input.history.map((one, index) => checkNumber(`history.${index}`, one));
  if (history.length < FEWEST)
    throw new CalcError({
      code: 'impossible',
      argument: 'history',
      given: `${history.length} values`,
      allowed: `at least ${FEWEST} values`,
    });
  const median = medianOf(history);
  const away = history.map((one) => Math.abs(one - median));
  const spread =
    medianOf(away) / MEDIAN_SHARE || (MEAN_SHARE * away.reduce((sum, one) => sum + one, 0)) / away.length;
  return { score: spread === 0 ? null : (value - median) / spread, median, spread };
}

/** The middle one of some values, or the mean of the middle two. */
function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((one, other) => one - other);
  const middle = sorted.length / 2;
  const [low = NaN, high = NaN] = [sorted[Math.ceil(middle) - 1], sorted[Math.floor(middle)]];
  return (low + high) / 2;
}
