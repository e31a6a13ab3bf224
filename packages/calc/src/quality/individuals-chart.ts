import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { checkSeries, mean } from '../numeric/summation.ts';
import { checkBaseline, checkRestarts } from './chart-input.ts';

export interface IndividualsChart {
  centre: number;
  /** Standard deviation estimated from the moving range; what `ruleViolations` takes. */
  sigma: number;
  upper: number;
  lower: number;
  /** Difference from the value before, null at the start of each run. */
  movingRanges: (number | null)[];
  movingRangeMean: number;
  movingRangeUpper: number;
  /** Places (from 0) of values beyond the limits. */
  beyond: number[];
}

/** 3 / d2 with d2 = 1.128 for two successive values, as the NIST/SEMATECH e-Handbook computes. */
const LIMIT_FACTOR = 3 / 1.128;
/** D4 for two values. */
const MOVING_RANGE_FACTOR = 3.267;

/**
 * Control chart of single values with their moving range, for results that come one at a time, such as bath analyses.
 * Everything has the unit of the values.
 *
 * `restarts` are places (from 0) at which a new run begins, after a known addition for instance: no moving range is taken
 * across them. `baseline` is how many leading values set the limits; all of them unless given. `limitFactor` turns the
 * mean moving range into the distance of the limits: 3/1.128 (NIST) unless given; handbooks also use 2.66, and exact d2
 * gives 2.65868, which differs in the third decimal of the limits.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods (2012) 6.3.2.2. Valid for two values or more in one run.
 * Errors: `malformed`, `not-finite`, `out-of-range`; `impossible` when no two values of the baseline follow each other.
 *
 * @example
 * individualsChart({ values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1] })
 * // { centre: 50.81, upper: 55.8041, lower: 45.8159, movingRangeMean: 1.8778, movingRangeUpper: 6.1347, beyond: [] }
 */
export function individualsChart(input: {
  values: readonly number[];
  restarts?: readonly number[];
  baseline?: number;
  limitFactor?: number;
}): IndividualsChart {
  const values = checkSeries('values', input.values, 2);
  const restarts = checkRestarts(input.restarts, values.length);
  const baseline = checkBaseline({ given: input.baseline, count: values.length, least: 2 });
  const limitFactor = checkNumber('limitFactor', input.limitFactor ?? LIMIT_FACTOR, { above: 0 });

  const movingRanges = values.map((value, i) =>
    restarts.has(i) ? null : Math.abs(value - (values[i - 1] ?? NaN)),
  );
  const ranges = movingRanges.slice(0, baseline).filter((range) => range !== null);
  if (ranges.length === 0) {
    throw new CalcError({
      code: 'impossible',
      argument: 'restarts',
      given: input.restarts?.join(', '),
      allowed: 'at least two values of the baseline in one run',
    });
  }
  const centre = mean(values.slice(0, baseline));
  const movingRangeMean = mean(ranges);
  const reach = limitFactor * movingRangeMean;
  return {
    centre,
    sigma: reach / 3,
    upper: centre + reach,
    lower: centre - reach,
    movingRanges,
    movingRangeMean,
    movingRangeUpper: MOVING_RANGE_FACTOR * movingRangeMean,
    beyond: placesBeyond({ values, upper: centre + reach, lower: centre - reach }),
  };
}

/** Places of the values strictly outside the limits. */
export const placesBeyond = (chart: { values: readonly number[]; upper: number; lower: number }): number[] =>
  chart.values.flatMap((value, index) => (value > chart.upper || value < chart.lower ? [index] : []));
