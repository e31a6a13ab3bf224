import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { compareAll } from '../../reference/quality/spc.ts';
import { ewmaChart } from './ewma-chart.ts';

// NIST/SEMATECH e-Handbook 6.3.2.4.
describe('exponentially weighted moving average', () => {
  const rows = readCsv('quality/spc_ewma_nist.csv');
  const chart = ewmaChart({
    values: rows.map((row) => Number(row['x'])),
    target: 50,
    sigma: 2.0539,
    lambda: 0.3,
    width: 3,
  });

  it('gives the NIST example', () => {
    compareAll('ewma_nist', {
      lambda: 0.3,
      ewma0: 50,
      s: 2.0539,
      k: 3,
      'ucl_steady (published)': chart.steadyUpper,
      'lcl_steady (published)': chart.steadyLower,
      'ucl_steady (computed)': chart.steadyUpper,
      'lcl_steady (computed)': chart.steadyLower,
      'points beyond steady limits': chart.points.filter(
        ({ average }) => average > chart.steadyUpper || average < chart.steadyLower,
      ).length,
    });
    expect(chart.beyond).toEqual([]);
  });

  it.each(rows)('point $i', (row) => {
    const point = chart.points[Number(row['i']) - 1];
    expect(point?.average).toBeCloseTo(Number(row['ewma_computed_6dp']), 6);
    // Published to two decimals, of which the second is off by one in a few rows of the handbook itself.
    expect(Math.abs(Number(point?.average) - Number(row['ewma_published_2dp']))).toBeLessThan(0.011);
    expect(point?.upper).toBeCloseTo(Number(row['ucl_exact_6dp']), 6);
    expect(point?.lower).toBeCloseTo(Number(row['lcl_exact_6dp']), 6);
  });

  it('with all weight on the newest value is the chart of the values', () => {
    const { points, beyond } = ewmaChart({ values: [1, 5, -6], target: 0, sigma: 1.5, lambda: 1 });
    expect(points).toEqual([1, 5, -6].map((average) => ({ average, upper: 4.5, lower: -4.5 })));
    expect(beyond).toEqual([1, 2]);
  });

  it('starts again from the target at a restart', () => {
    const again = ewmaChart({ values: [58, 52, 52], target: 50, sigma: 2, restarts: [1] }).points;
    expect(again.slice(1)).toEqual(ewmaChart({ values: [52, 52], target: 50, sigma: 2 }).points);
  });

  it.each([
    [{ lambda: 0 }, 'lambda'],
    [{ lambda: 1.1 }, 'lambda'],
    [{ sigma: 0 }, 'sigma'],
    [{ width: 0 }, 'width'],
    [{ target: NaN }, 'target'],
    [{ values: [] }, 'values'],
    [{ restarts: [-1] }, 'restarts[0]'],
  ])('refuses %o', (wrong, argument) => {
    const call = () => ewmaChart({ values: [1], target: 1, sigma: 1, ...wrong });
    expect(call).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});
