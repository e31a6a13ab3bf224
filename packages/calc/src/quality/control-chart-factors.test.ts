import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { controlChartFactors } from './control-chart-factors.ts';

// Computed from the definitions by others, to five decimals; Montgomery (2005) appendix VI prints three of them.
describe('control chart factors', () => {
  it.each(readCsv('quality/control_chart_constants.csv'))('subgroups of $n', ({ n, ...row }) => {
    const factors = Object.entries(controlChartFactors(Number(n)));
    expect(factors.map(([name]) => name).sort()).toEqual(Object.keys(row).sort());
    for (const [name, value] of factors) {
      // The fifth decimal of d3 in that table is off by one here and there (n = 14: 0.76303 for 0.763023); what is
      // computed from d3 inherits three times that. The integration below decides.
      const tolerance = { d3: 1e-5, D1: 2e-5, D2: 2e-5, D3: 1e-5, D4: 1e-5 }[name] ?? 5.1e-6;
      expect(Math.abs(value - Number(row[name])), `${name}: ${value}`).toBeLessThanOrEqual(tolerance);
    }
  });

  it('has the exact values of two observations', () => {
    const { d2, d3, c4 } = controlChartFactors(2);
    expect(d2).toBeCloseTo(2 / Math.sqrt(Math.PI), 8);
    expect(d3).toBeCloseTo(Math.sqrt(2 - 4 / Math.PI), 8);
    expect(c4).toBeCloseTo(Math.sqrt(2 / Math.PI), 12);
  });

  it.each([3, 5, 14, 25])('agrees with the density of the range of %d values, integrated', (n) => {
    const { d2, d3 } = controlChartFactors(n);
    const [total, first, second] = momentsOfRange(n);
    expect(total).toBeCloseTo(1, 7);
    expect(first).toBeCloseTo(d2, 6);
    expect(Math.sqrt(second - first ** 2)).toBeCloseTo(d3, 6);
  });

  it.each([1, 26, 5.5, NaN])('refuses subgroups of %d', (n) => {
    expect(() => controlChartFactors(n)).toThrow(
      expect.objectContaining({ name: 'CalcError', argument: 'n' }),
    );
  });
});

const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);

/** Cumulative normal probability by its power series, exact to rounding for |x| < 9. */
function cumulative(x: number): number {
  let term = x;
  let total = 0;
  for (let k = 1; total + term !== total; k++) {
    total += term;
    term *= (x * x) / (2 * k + 1);
  }
  return 0.5 + density(x) * total;
}

/** Zeroth to second moment of the range of n normal values: trapezoid over the smallest value, Simpson over the range. */
function momentsOfRange(n: number): [number, number, number] {
  const step = 0.05;
  const moments: [number, number, number] = [0, 0, 0];
  for (let i = 0; i <= 280; i++) {
    const range = i * step;
    let height = 0;
    for (let x = -8.5; x < 8.5; x += 2 * step) {
      height +=
        density(x) * density(x + range) * (cumulative(x + range) - cumulative(x)) ** (n - 2) * 2 * step;
    }
    const weight = ((i === 0 || i === 280 ? 1 : i % 2 ? 4 : 2) * step) / 3;
    for (const power of [0, 1, 2] as const) moments[power] += weight * n * (n - 1) * height * range ** power;
  }
  return moments;
}
