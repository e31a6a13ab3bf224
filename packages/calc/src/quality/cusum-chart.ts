import { checkNumber } from '../check.ts';
import { checkSeries } from '../numeric/summation.ts';
import { checkRestarts } from './chart-input.ts';

export interface CusumChart {
  points: { high: number; low: number }[];
  /** Places (from 0) where a sum is above the decision interval, with the side it is on. */
  signals: { place: number; side: 'high' | 'low' }[];
}

/**
 * Tabular cumulative sums of what exceeds the target by more than the allowance, upward and downward: finds a small lasting
 * shift soonest. All figures have the unit of the values.
 *
 * `allowance` k is usually half the shift worth finding, `decision` h four or five standard deviations. At each of
 * `restarts` (places from 0) both sums start again from zero.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods (2012) 6.3.2.3.
 * Errors: `malformed`, `not-finite`, `out-of-range`.
 *
 * @example
 * cusumChart({ values: [325.15, 328.325, 327.25], target: 325, allowance: 0.3175, decision: 4.1959 })
 * // { points: [{ high: 0, low: 0 }, { high: 3.0075 }, { high: 4.94 }], signals: [{ place: 2, side: 'high' }] }
 */
export function cusumChart(input: {
  values: readonly number[];
  target: number;
  allowance: number;
  decision: number;
  restarts?: readonly number[];
}): CusumChart {
  const values = checkSeries('values', input.values, 1);
  const target = checkNumber('target', input.target);
  const allowance = checkNumber('allowance', input.allowance, { min: 0 });
  const decision = checkNumber('decision', input.decision, { above: 0 });
  const restarts = checkRestarts(input.restarts, values.length);

  let high = 0;
  let low = 0;
  const points = values.map((value, index) => {
    if (restarts.has(index)) [high, low] = [0, 0];
    high = Math.max(0, high + value - target - allowance);
    low = Math.max(0, low + target - allowance - value);
    return { high, low };
  });
  const signals = points.flatMap((point, index) => [
    ...(point.high > decision ? [{ place: index, side: 'high' as const }] : []),
    ...(point.low > decision ? [{ place: index, side: 'low' as const }] : []),
  ]);
  return { points, signals };
}
