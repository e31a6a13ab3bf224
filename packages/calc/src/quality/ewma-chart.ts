import { checkNumber } from '../check.ts';
import { checkSeries } from '../numeric/summation.ts';
import { checkRestarts } from './chart-input.ts';

export interface EwmaChart {
  points: { average: number; upper: number; lower: number }[];
  /** Limits that those of the points approach. */
  steadyUpper: number;
  steadyLower: number;
  /** Places (from 0) where the average is beyond the limits of its own point. */
  beyond: number[];
}

/**
 * Exponentially weighted moving average with its limits: sees a slow drift long before single values leave theirs.
 * `target` and `sigma` (standard deviation of a single value) have the unit of the values.
 *
 * `lambda` is the weight of the newest value, above 0 up to 1, 0.3 unless given (0.2 to 0.3 usual); `width` the distance of
 * the limits in standard deviations of the average, 3 unless given. At each of `restarts` (places from 0) the average
 * starts again from the target.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods (2012) 6.3.2.4.
 * Errors: `malformed`, `not-finite`, `out-of-range`.
 *
 * @example
 * ewmaChart({ values: [52.0, 47.0, 53.0], target: 50, sigma: 2.0539 })
 * // { points: [{ average: 50.6 }, { average: 49.52 }, { average: 50.564 }], steadyUpper: 52.5884, steadyLower: 47.4116 }
 */
export function ewmaChart(input: {
  values: readonly number[];
  target: number;
  sigma: number;
  lambda?: number;
  width?: number;
  restarts?: readonly number[];
}): EwmaChart {
  const values = checkSeries('values', input.values, 1);
  const target = checkNumber('target', input.target);
  const sigma = checkNumber('sigma', input.sigma, { above: 0 });
  const lambda = checkNumber('lambda', input.lambda ?? 0.3, { above: 0, max: 1 });
  const width = checkNumber('width', input.width ?? 3, { above: 0 });
  const restarts = checkRestarts(input.restarts, values.length);

  const steadyReach = width * sigma * Math.sqrt(lambda / (2 - lambda));
  let average = target;
  let inRun = 0;
  const points = values.map((value, index) => {
    if (restarts.has(index)) [average, inRun] = [target, 0];
    inRun++;
    average = lambda * value + (1 - lambda) * average;
    const reach = steadyReach * Math.sqrt(1 - (1 - lambda) ** (2 * inRun));
    return { average, upper: target + reach, lower: target - reach };
  });
  return {
    points,
    steadyUpper: target + steadyReach,
    steadyLower: target - steadyReach,
    beyond: points.flatMap((point, index) =>
      point.average > point.upper || point.average < point.lower ? [index] : [],
    ),
  };
}
