import { mean as theirMean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { compareAll } from '../../reference/quality/spc.ts';
import { xbarChart } from './xbar-chart.ts';

// Twelve subgroups of five shut-off voltages, the last one off: worked from the definitions.
describe('mean and spread', () => {
  const subgroups = readCsv('quality/spc_xbar_example.csv').map((row) =>
    ['x1', 'x2', 'x3', 'x4', 'x5'].map((name) => Number(row[name])),
  );
  const both = (baseline: number) => ({
    R: xbarChart({ subgroups, baseline }),
    S: xbarChart({ subgroups, baseline, spread: 'standard-deviation' }),
  });
  const figures = ({ R, S }: ReturnType<typeof both>) => ({
    grand_mean: R.centre,
    mean_range: R.spreadMean,
    mean_s: S.spreadMean,
    ucl_xbar_R: R.upper,
    lcl_xbar_R: R.lower,
    ucl_R: R.spreadUpper,
    lcl_R: R.spreadLower,
    ucl_xbar_S: S.upper,
    lcl_xbar_S: S.lower,
    ucl_S: S.spreadUpper,
    lcl_S: S.spreadLower,
  });

  it('with limits from all twelve', () => {
    const charts = both(12);
    const numbered = charts.R.meansBeyond.map((index) => index + 1);
    compareAll('xbar_example all 12', {
      ...figures(charts),
      'subgroups beyond xbar limits': numbered.join(' '),
    });
    // The limits from s are a little closer: subgroup 3 with its mean of 27.88 is below 27.88047.
    expect(charts.S.meansBeyond).toEqual([2, 11]);
  });

  it('with limits from the first eleven', () => {
    const charts = both(11);
    const twelfth = charts.R.meansBeyond.includes(11) ? 'yes' : 'no';
    compareAll('xbar_example first 11', { ...figures(charts), 'subgroup 12 beyond xbar limits': twelfth });
  });

  it('has the means and standard deviations of simple-statistics', () => {
    const { means, spreads } = both(12).S;
    for (const [place, subgroup] of subgroups.entries()) {
      expect(means[place]).toBeCloseTo(theirMean(subgroup), 10);
      expect(spreads[place]).toBeCloseTo(sampleStandardDeviation(subgroup), 10);
    }
  });

  it('finds a subgroup that scatters too much', () => {
    const steady = Array.from({ length: 9 }, () => [1, 2, 3]);
    expect(xbarChart({ subgroups: [...steady, [-4, 2, 8]], baseline: 9 })).toMatchObject({
      spreadsBeyond: [9],
      meansBeyond: [],
    });
  });

  it.each([
    [{ subgroups: [] }, 'subgroups'],
    [
      {
        subgroups: [
          [1, 2],
          [1, 2, 3],
        ],
      },
      'subgroups[1]',
    ],
    [{ subgroups: [[1]] }, 'subgroups[0]'],
    [{ subgroups: [Array.from({ length: 26 }, () => 1)] }, 'n'],
    [{ subgroups: [[1, NaN]] }, 'subgroups[0][1]'],
    [{ subgroups: [[1, 2]], spread: 'variance' as 'range' }, 'spread'],
    [{ subgroups: [[1, 2]], baseline: 2 }, 'baseline'],
  ])('refuses %o', (input, argument) => {
    expect(() => xbarChart(input)).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});
