import { checkWhole } from '../check.ts';
import { logGamma } from '../numeric/special-functions.ts';
import { RANGE_FACTORS } from './data/control-chart-factors.ts';

export interface ControlChartFactors {
  d2: number;
  d3: number;
  c4: number;
  A: number;
  A2: number;
  A3: number;
  B3: number;
  B4: number;
  B5: number;
  B6: number;
  D1: number;
  D2: number;
  D3: number;
  D4: number;
  E2: number;
}

/**
 * Factors that turn the mean range or standard deviation of subgroups of n normal values into three-sigma limits, under
 * their usual names. Dimensionless; a lower limit that would be negative is 0.
 *
 * Valid for n from 2 to 25. Source: definitions in NIST/SEMATECH e-Handbook (2012) 6.3.2.1 and Montgomery (2005),
 * appendix VI, whose printed three decimals differ from these by at most 0.001.
 * Errors: `out-of-range`.
 *
 * @example
 * controlChartFactors(5) // { d2: 2.32593, c4: 0.93999, A2: 0.57682, A3: 1.42730, D3: 0, D4: 2.11450 }
 */
export function controlChartFactors(n: number): ControlChartFactors {
  checkWhole('n', n, { min: 2, max: 25 });
  const [, d2, d3] = RANGE_FACTORS.find(([size]) => size === n) ?? [n, NaN, NaN];
  const c4 = Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2));
  const c5 = Math.sqrt(1 - c4 ** 2);
  const root = Math.sqrt(n);
  const floor = (value: number) => Math.max(0, value);
  return {
    d2,
    d3,
    c4,
    A: 3 / root,
    A2: 3 / (d2 * root),
    A3: 3 / (c4 * root),
    B3: floor(1 - (3 * c5) / c4),
    B4: 1 + (3 * c5) / c4,
    B5: floor(c4 - 3 * c5),
    B6: c4 + 3 * c5,
    D1: floor(d2 - 3 * d3),
    D2: d2 + 3 * d3,
    D3: floor(1 - (3 * d3) / d2),
    D4: 1 + (3 * d3) / d2,
    E2: 3 / d2,
  };
}
