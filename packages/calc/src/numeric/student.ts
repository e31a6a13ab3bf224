import { checkNumber } from '../check.ts';
import { bisect } from './root.ts';
import { incompleteBeta } from './special-functions.ts';

/**
 * Quantile of Student's t: the value that a t variable stays below with the given probability. A two-sided 95 %
 * interval uses probability 0.975.
 *
 * Valid for probability strictly between 0 and 1 and degreesOfFreedom from 1 to 1,000,000, not necessarily whole.
 * Source: definition, through the incomplete beta function (Abramowitz and Stegun 26.7.1).
 * Errors: `out-of-range` or `not-finite` for either argument.
 *
 * @example
 * studentQuantile({ probability: 0.975, degreesOfFreedom: 10 }) // 2.228139
 */
export function studentQuantile(input: { probability: number; degreesOfFreedom: number }): number {
  const probability = checkNumber('probability', input.probability, { above: 0, below: 1 });
  const df = checkNumber('degreesOfFreedom', input.degreesOfFreedom, { min: 1, max: 1e6 });
  if (last.probability !== probability || last.degreesOfFreedom !== df) {
    last = { probability, degreesOfFreedom: df, t: quantile(probability, df) };
  }
  return last.t;
}

/** A band along a curve asks for one and the same quantile at every point of it. */
let last = { probability: 0.5, degreesOfFreedom: 1, t: 0 };

function quantile(probability: number, df: number): number {
  const tail = Math.min(probability, 1 - probability);
  if (tail === 0.5) return 0;
  // P(T > t) = I(df / (df + t^2); df/2, 1/2) / 2, read backwards in the argument of the beta function.
  const share = bisect({ f: (x) => incompleteBeta(x, df / 2, 0.5) / 2 - tail, low: 0, high: 1 });
  const t = Math.sqrt((df * (1 - share)) / share);
  return probability < 0.5 ? -t : t;
}
