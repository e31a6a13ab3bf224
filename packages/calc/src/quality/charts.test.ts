import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cusumChart } from './cusum-chart.ts';
import { ewmaChart } from './ewma-chart.ts';
import { individualsChart } from './individuals-chart.ts';
import { ruleViolations } from './rule-violations.ts';
import { xbarChart } from './xbar-chart.ts';

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
