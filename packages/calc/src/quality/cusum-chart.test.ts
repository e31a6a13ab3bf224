import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { compareAll } from '../../reference/quality/spc.ts';
import { cusumChart } from './cusum-chart.ts';

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
