import fc from 'fast-check';
import { mean as theirMean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { groupedBy, readCsv } from '../../reference/csv.ts';
import { capability } from './capability.ts';
import { cusumChart } from './cusum-chart.ts';
import { ewmaChart } from './ewma-chart.ts';
import { individualsChart } from './individuals-chart.ts';
import { ruleViolations } from './rule-violations.ts';
import { xbarChart } from './xbar-chart.ts';

const expected = groupedBy('example', readCsv('quality/spc_expected.csv'));

/** Compares every row of one example with what `found` has under the row's quantity; no row may be left out. */
function compareAll(example: string, found: Record<string, number | string>) {
  const rows = expected.get(example) ?? [];
  expect(Object.keys(found)).toEqual(rows.map((row) => row['quantity']));
  for (const { quantity = '', value = '', tolerance } of rows) {
    const figure = found[quantity];
    if (typeof figure === 'string') expect(figure, quantity).toBe(value);
    else
      expect(Math.abs(Number(figure) - Number(value)), `${quantity}: ${figure}`).toBeLessThanOrEqual(
        Number(tolerance),
      );
  }
}

const column = (file: string, name: string) => readCsv(`quality/${file}.csv`).map((row) => Number(row[name]));

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
    const numbered = charts.R.meansBeyond.map((place) => place + 1);
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

// NIST/SEMATECH e-Handbook 6.3.2.3.
describe('cumulative sums', () => {
  const rows = readCsv('quality/spc_cusum_nist.csv');
  const chart = cusumChart({
    values: rows.map((row) => Number(row['x'])),
    target: 325,
    allowance: 0.3175,
    decision: 4.1959,
  });

  it('gives the NIST example', () => {
    const first = chart.signals[0];
    compareAll('cusum_nist', {
      target: 325,
      k: 0.3175,
      h: 4.1959,
      'first signal index': Number(first?.place) + 1,
      'first signal side': first?.side === 'high' ? 'hi' : 'lo',
      's_hi at 20': chart.points[19]?.high ?? NaN,
    });
  });

  it.each(rows)('point $i', (row) => {
    const place = Number(row['i']) - 1;
    expect(chart.points[place]?.high).toBeCloseTo(Number(row['s_hi_computed']), 4);
    expect(chart.points[place]?.low).toBeCloseTo(Number(row['s_lo_computed']), 4);
    expect(Math.abs(Number(chart.points[place]?.high) - Number(row['s_hi_published']))).toBeLessThan(0.006);
    expect(Math.abs(Number(chart.points[place]?.low) - Number(row['s_lo_published']))).toBeLessThan(0.006);
    expect(chart.signals.some((signal) => signal.place === place)).toBe(row['signal'] === 'hi');
  });

  it('mirrors: a shift downward signals low', () => {
    const mirrored = cusumChart({
      values: rows.map((row) => 650 - Number(row['x'])),
      target: 325,
      allowance: 0.3175,
      decision: 4.1959,
    });
    expect(mirrored.signals.map(({ place, side }) => [place, side])).toEqual(
      chart.signals.map(({ place }) => [place, 'low']),
    );
  });

  it('starts both sums again at a restart', () => {
    const again = { target: 0, allowance: 0, decision: 5 };
    expect(cusumChart({ values: [4, 4, 4], restarts: [2], ...again }).points.map(({ high }) => high)).toEqual(
      [4, 8, 4],
    );
    expect(
      cusumChart({ values: [-4, -4, -4], restarts: [2], ...again }).points.map(({ low }) => low),
    ).toEqual([4, 8, 4]);
  });

  it.each([
    [{ allowance: -1 }, 'allowance'],
    [{ decision: 0 }, 'decision'],
    [{ target: Infinity }, 'target'],
    [{ values: [] }, 'values'],
  ])('refuses %o', (wrong, argument) => {
    const call = () => cusumChart({ values: [1], target: 1, allowance: 1, decision: 1, ...wrong });
    expect(call).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});

// NIST/SEMATECH e-Handbook 6.1.6.
describe('capability', () => {
  const process = { mean: 16, sigma: 2, lowerLimit: 8, upperLimit: 20, inControl: true };

  it('gives the NIST example', () => {
    const found = capability(process);
    compareAll('capability_nist', {
      'Cp (USL 20 LSL 8 mean 16 s 2)': Number(found.cp),
      Cpu: Number(found.cpUpper),
      Cpl: Number(found.cpLower),
      Cpk: Number(found.cpk),
      k: Number(found.k),
    });
    expect(Number(found.cp) * (1 - Number(found.k))).toBeCloseTo(Number(found.cpk), 12);
  });

  it('knows one-sided limits', () => {
    const one = { mean: 16, sigma: 2, inControl: true };
    expect(capability({ ...one, upperLimit: 20 })).toMatchObject({
      cp: null,
      k: null,
      cpLower: null,
      cpUpper: 2 / 3,
      cpk: 2 / 3,
    });
    expect(capability({ ...one, lowerLimit: 8 })).toMatchObject({
      cp: null,
      k: null,
      cpUpper: null,
      cpLower: 4 / 3,
      cpk: 4 / 3,
    });
  });

  it('is negative where the mean is outside the tolerance', () => {
    expect(capability({ ...process, mean: 23 }).cpk).toBe(-0.5);
  });

  it('states none for a chart out of control', () => {
    expect(capability({ ...process, inControl: false })).toEqual({
      cp: null,
      cpUpper: null,
      cpLower: null,
      cpk: null,
      k: null,
      flags: ['no index: the chart is out of control'],
    });
  });

  it.each([
    [{ mean: 1, sigma: 1, inControl: true }, 'upperLimit'],
    [{ ...process, lowerLimit: 20 }, 'upperLimit'],
    [{ ...process, sigma: 0 }, 'sigma'],
    [{ ...process, lowerLimit: NaN }, 'lowerLimit'],
    [{ ...process, upperLimit: Infinity }, 'upperLimit'],
    [{ ...process, mean: NaN }, 'mean'],
  ])('refuses %o', (input, argument) => {
    expect(() => capability(input)).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});

describe('properties', () => {
  it('a chart of constant data has no violations', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.integer({ min: 2, max: 40 }),
        (value, count) => {
          const values = Array.from({ length: count }, () => value);
          const chart = individualsChart({ values });
          expect(chart.beyond).toEqual([]);
          expect(ruleViolations({ values, centre: chart.centre, sigma: chart.sigma })).toEqual([]);
          const means = xbarChart({ subgroups: [values.slice(0, 20), values.slice(0, 20)] });
          expect([...means.meansBeyond, ...means.spreadsBeyond]).toEqual([]);
          expect(cusumChart({ values, target: value, allowance: 0, decision: 1e-9 }).signals).toEqual([]);
          expect(ewmaChart({ values, target: value, sigma: 1 }).beyond).toEqual([]);
        },
      ),
    );
  });

  it('limits move with the data and stretch with its scale', () => {
    const series = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 3, maxLength: 30 });
    fc.assert(
      fc.property(
        series,
        fc.integer({ min: -500, max: 500 }),
        fc.integer({ min: 1, max: 50 }),
        (values, shift, scale) => {
          const chart = individualsChart({ values });
          const moved = individualsChart({ values: values.map((value) => value * scale + shift) });
          expect(moved.upper).toBeCloseTo(chart.upper * scale + shift, 6);
          expect(moved.sigma).toBeCloseTo(chart.sigma * scale, 6);
          expect(moved.beyond).toEqual(chart.beyond);
        },
      ),
    );
  });
});
