import { describe, expect, it } from 'vitest';
import { eightRungs, exactCoupons, straight, titanium } from '../../../reference/optics/fitted-series.ts';
import { seeded } from '../../../reference/optics/seeded.ts';
import { simulatedCoupons, type TrueGrowth } from '../../../reference/optics/simulated-series.ts';
import { colourPathOf } from '../colour-path.ts';
import { calibrationSeries, thicknessOn } from './calibration-series.ts';
import { solveSeries } from './solve-series.ts';

const solved = (coupons: ReturnType<typeof exactCoupons>) => {
  const slopeNmPerV = { low: 1.05, high: 3.64 };
  const series = calibrationSeries({ coupons, path: colourPathOf(titanium), slopeNmPerV });
  const found = solveSeries(series, titanium.halfWavesAt);
  if (found === null) throw new Error('no curve at all');
  return found;
};
const bowed = (curvatureNmPerV2: number): TrueGrowth => ({ offsetNm: 2, slopeNmPerV: 2.5, curvatureNmPerV2 });
const terms = (coupons: ReturnType<typeof exactCoupons>) => solved(coupons).best.coefficients.length;

describe('curvature', () => {
  it('comes in where coupons show it', () => {
    expect(terms(exactCoupons(bowed(-0.0055), eightRungs))).toBe(3);
    expect(terms(exactCoupons(bowed(-0.0055), [20, 45, 70, 100]))).toBe(3);
  });

  it('stays out where there is none, and where it is sure but helps by less than 0.1 dE00', () => {
    expect(terms(exactCoupons(straight, eightRungs))).toBe(2);
    expect(terms(exactCoupons(bowed(-0.00003), eightRungs))).toBe(2);
  });

  it('stays out where three coupons leave nothing to judge it by', () => {
    expect(terms(exactCoupons(bowed(-0.0055), [20, 50, 80]))).toBe(2);
  });

  it('stays out where scatter alone would give it: four coupons that scatter by 1.5 nm', () => {
    const found = Array.from({ length: 12 }, (_, seed) => {
      const random = seeded(100 + seed);
      const voltagesV = [20, 45, 70, 100];
      return terms(
        simulatedCoupons({ model: titanium, growth: straight, voltagesV, random, thicknessSdNm: 1.5 }),
      );
    });
    expect(found.filter((count) => count === 2).length).toBeGreaterThanOrEqual(11);
  });
});

describe('other ways to count the orders', () => {
  // Far up the orders there are many ways to count them.
  const voltagesV = [400, 420, 440];
  const half = (coefficients: readonly number[]) =>
    voltagesV.map((voltageV) => titanium.halfWavesAt(thicknessOn(coefficients, voltageV)));

  it('are up to four, best first, each apart from the best and from one another by 0.3 of a half-wave', () => {
    const { best, others } = solved(exactCoupons(straight, voltagesV));
    expect(others).toHaveLength(4);
    const curves = [best, ...others];
    const residuals = curves.map(({ residualDeltaE }) => residualDeltaE);
    expect(residuals).toEqual(residuals.toSorted((a, b) => a - b));
    for (const [i, one] of curves.entries()) {
      for (const other of curves.slice(i + 1)) {
        const apart = half(one.coefficients).map((order, k) =>
          Math.abs(order - (half(other.coefficients)[k] ?? NaN)),
        );
        expect(Math.max(...apart)).toBeGreaterThan(0.3);
      }
    }
  });

  it('have a mean slope within the range that was searched, when any curve has', () => {
    const { best, others } = solved(exactCoupons(straight, voltagesV));
    for (const { coefficients } of [best, ...others]) {
      const [, slope = 0, curvature = 0] = coefficients;
      expect(slope + curvature * 440).toBeGreaterThanOrEqual(1.05);
      expect(slope + curvature * 440).toBeLessThanOrEqual(3.64);
    }
  });
});
