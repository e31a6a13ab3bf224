import { checkName } from '../check.ts';
import { CalcError } from '../errors.ts';
import { checkSeries, mean, standardDeviation } from '../numeric/summation.ts';
import { checkBaseline } from './chart-input.ts';
import { controlChartFactors } from './control-chart-factors.ts';
import { placesBeyond } from './individuals-chart.ts';

export interface XbarChart {
  /** Grand mean of the baseline. */
  centre: number;
  upper: number;
  lower: number;
  /** Standard deviation within subgroups, of a single value. */
  sigma: number;
  means: number[];
  spreads: number[];
  spreadMean: number;
  spreadUpper: number;
  spreadLower: number;
  /** Places (from 0) of subgroups whose mean, or whose spread, is beyond its limits. */
  meansBeyond: number[];
  spreadsBeyond: number[];
}

/**
 * Control charts of the mean and the spread of subgroups of equal size. Everything has the unit of the values.
 *
 * `spread` is the range R unless 'standard-deviation' is asked for, which uses larger subgroups better. `baseline` is how
 * many leading subgroups set the limits; all of them unless given.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods (2012) 6.3.2.1. Valid for subgroups of 2 to 25.
 * Errors: `malformed` for subgroups of different size, `out-of-range`, `not-finite`, `unknown`.
 *
 * @example
 * xbarChart({ subgroups: [[27.9, 28.1, 28.0], [28.0, 28.2, 27.9], [27.7, 28.0, 27.9]] })
 * // { centre: 27.9667, spreadMean: 0.2667, upper: 28.2396, lower: 27.6938, spreadUpper: 0.6866, spreadLower: 0 }
 */
export function xbarChart(input: {
  subgroups: readonly (readonly number[])[];
  spread?: 'range' | 'standard-deviation';
  baseline?: number;
}): XbarChart {
  const spread = checkName('spread', input.spread ?? 'range', ['range', 'standard-deviation']);
  const subgroups = checkSubgroups(input.subgroups);
  const baseline = checkBaseline({ given: input.baseline, count: subgroups.length, least: 1 });
  const factors = controlChartFactors(subgroups[0]?.length ?? 0);

  const means = subgroups.map(mean);
  const spreads = subgroups.map(spread === 'range' ? range : standardDeviation);
  const centre = mean(means.slice(0, baseline));
  const spreadMean = mean(spreads.slice(0, baseline));
  const { ofMean, low, high, unbias } =
    spread === 'range'
      ? { ofMean: factors.A2, low: factors.D3, high: factors.D4, unbias: factors.d2 }
      : { ofMean: factors.A3, low: factors.B3, high: factors.B4, unbias: factors.c4 };
  const limits = { upper: centre + ofMean * spreadMean, lower: centre - ofMean * spreadMean };
  const spreadLimits = { upper: high * spreadMean, lower: low * spreadMean };
  return {
    centre,
    ...limits,
    sigma: spreadMean / unbias,
    means,
    spreads,
    spreadMean,
    spreadUpper: spreadLimits.upper,
    spreadLower: spreadLimits.lower,
    meansBeyond: placesBeyond({ values: means, ...limits }),
    spreadsBeyond: placesBeyond({ values: spreads, ...spreadLimits }),
  };
}

const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

function checkSubgroups(items: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const subgroups = items.map((subgroup, index) => checkSeries(`subgroups[${index}]`, subgroup, 2));
  const size = subgroups[0]?.length ?? 0;
  const odd = subgroups.findIndex((subgroup) => subgroup.length !== size);
  if (size === 0 || odd > 0) {
    throw new CalcError({
      code: 'malformed',
      argument: size === 0 ? 'subgroups' : `subgroups[${odd}]`,
      given: `a list of ${subgroups[odd]?.length ?? 0}`,
      allowed: size === 0 ? 'at least one subgroup' : `${size} values, as in the first subgroup`,
    });
  }
  return subgroups;
}
