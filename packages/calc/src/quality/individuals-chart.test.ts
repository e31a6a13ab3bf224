import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { column, compareAll } from '../../reference/quality/spc.ts';
import { individualsChart } from './individuals-chart.ts';

// NIST/SEMATECH e-Handbook 6.3.2.2, flow rate of ten batches, and the three ways of writing the factor.
describe('individuals', () => {
  const values = column('spc_imr_nist', 'x');
  const chart = individualsChart({ values });

  it('gives the NIST example', () => {
    const rounded = individualsChart({ values, limitFactor: 2.66 });
    const exact = individualsChart({ values, limitFactor: 3 / (2 / Math.sqrt(Math.PI)) });
    compareAll('imr_nist', {
      mean_x: chart.centre,
      mean_mr: chart.movingRangeMean,
      'ucl_x (d2=1.128)': chart.upper,
      'lcl_x (d2=1.128)': chart.lower,
      'ucl_x (factor 2.66)': rounded.upper,
      'lcl_x (factor 2.66)': rounded.lower,
      'ucl_x (exact d2)': exact.upper,
      'ucl_mr (3.267)': chart.movingRangeUpper,
      'points beyond limits': chart.beyond.length,
    });
    expect(chart.movingRanges.map((range) => range?.toFixed(1) ?? '')).toEqual(
      readCsv('quality/spc_imr_nist.csv').map((row) => row['mr']),
    );
  });

  it('takes no moving range across a restart', () => {
    const { movingRanges, movingRangeMean, sigma } = individualsChart({
      values: [10, 11, 30, 31, 30],
      restarts: [2],
    });
    expect(movingRanges).toEqual([null, 1, null, 1, 1]);
    expect(movingRangeMean).toBe(1);
    expect(sigma).toBeCloseTo(1 / 1.128, 12);
  });

  it('sets the limits by the baseline and finds what leaves them later', () => {
    const found = individualsChart({ values: [10, 11, 10, 11, 10, 15, 4], baseline: 5 });
    expect(found.centre).toBeCloseTo(10.4, 12);
    expect(found.beyond).toEqual([5, 6]);
  });

  it.each([
    [{ values: [1] }, 'values'],
    [{ values: [1, 2, 3], restarts: [1, 2] }, 'restarts'],
    [{ values: [1, 2, 3], restarts: [3] }, 'restarts[0]'],
    [{ values: [1, 2, 3], baseline: 1 }, 'baseline'],
    [{ values: [1, 2, 3], baseline: 4 }, 'baseline'],
    [{ values: [1, 2, 3], limitFactor: 0 }, 'limitFactor'],
    [{ values: [1, Infinity] }, 'values[1]'],
  ])('refuses %o', (input, argument) => {
    expect(() => individualsChart(input)).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});
