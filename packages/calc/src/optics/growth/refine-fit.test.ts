import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { exactCoupons, straight, titanium } from '../../../reference/optics/fitted-series.ts';
import { seeded } from '../../../reference/optics/seeded.ts';
import { simulatedCoupons } from '../../../reference/optics/simulated-series.ts';
import { deltaE2000 } from '../../colour/index.ts';
import { colourPathOf } from '../colour-path.ts';
import { calibrationSeries, thicknessOn } from './calibration-series.ts';
import { refineFit } from './refine-fit.ts';

const seriesOf = (coupons: ReturnType<typeof exactCoupons>) =>
  calibrationSeries({ coupons, path: colourPathOf(titanium), slopeNmPerV: { low: 1.05, high: 3.64 } });
const voltagesV = [10, 20, 30, 45, 60, 80];
const exact = seriesOf(exactCoupons(straight, voltagesV));

describe('from a curve nearby', () => {
  it.each([
    ['too thin all along', [-5, 2.1]],
    ['too steep', [2, 2.2]],
    ['too flat', [8, 1.95]],
    ['right already', [3, 2.1]],
  ])('%s: comes to rest on the curve that made the coupons', (_, start) => {
    const { coefficients, residualDeltaE, deltaE, local } = refineFit(exact, start);
    expect(coefficients[0]).toBeCloseTo(3, 2);
    expect(coefficients[1]).toBeCloseTo(2.1, 3);
    expect(residualDeltaE).toBeLessThan(0.02);
    expect(Math.max(...deltaE)).toBeLessThan(0.05);
    for (const [i, { thicknessNm }] of local.entries())
      expect(thicknessNm).toBeCloseTo(3 + 2.1 * (voltagesV[i] ?? NaN), 1);
  });

  it('a bowed curve converges with its curvature', () => {
    const bowed = { offsetNm: 2, slopeNmPerV: 2.5, curvatureNmPerV2: -0.0055 };
    const { coefficients } = refineFit(seriesOf(exactCoupons(bowed, voltagesV)), [4, 2.4, -0.004]);
    expect(coefficients[1]).toBeCloseTo(2.5, 1);
    expect(coefficients[2]).toBeCloseTo(-0.0055, 3);
  });

  it('a coupon looks no further than 12 nm from the curve for its local thickness', () => {
    const { local, residualDeltaE } = refineFit(exact, [80, 2.1]);
    expect(residualDeltaE).toBeGreaterThan(3);
    for (const { deltaE } of local) expect(deltaE).toBeGreaterThan(0.5);
  });
});

describe('how sure it is', () => {
  const random = seeded(3);
  const scattered = seriesOf(
    simulatedCoupons({ model: titanium, growth: straight, voltagesV, random, thicknessSdNm: 1.5 }),
  );

  it('a coupon weighs by how fast its colour changes with thickness, and no more than 1', () => {
    for (const { thicknessNm, weight } of refineFit(exact, [3, 2.1]).local) {
      const steepness = deltaE2000(titanium.labAt(thicknessNm - 0.5), titanium.labAt(thicknessNm + 0.5));
      expect(weight).toBeCloseTo(1 / (1 + 1 / steepness ** 2), 2);
    }
  });

  it('the covariance is that of a weighted regression of the thicknesses on voltage (matrices of ml-matrix)', () => {
    const { coefficients, covariance, local, degreesOfFreedom } = refineFit(scattered, [3, 2.1]);
    expect(degreesOfFreedom).toBe(4);
    const design = new Matrix(voltagesV.map((voltageV) => [1, voltageV]));
    const weights = Matrix.diag(local.map(({ weight }) => weight));
    const thickness = Matrix.columnVector(local.map(({ thicknessNm }) => thicknessNm));
    const normal = inverse(design.transpose().mmul(weights).mmul(design));
    const solved = normal.mmul(design.transpose()).mmul(weights).mmul(thickness).to1DArray();
    expect(coefficients[0]).toBeCloseTo(solved[0] ?? NaN, 2);
    expect(coefficients[1]).toBeCloseTo(solved[1] ?? NaN, 4);
    const misses = local.map(
      ({ thicknessNm, weight }, i) => weight * (thicknessNm - thicknessOn(solved, voltagesV[i] ?? NaN)) ** 2,
    );
    const variance = misses.reduce((total, miss) => total + miss, 0) / 4;
    for (const [i, row] of (covariance ?? []).entries())
      for (const [j, value] of row.entries()) expect(value / (variance * normal.get(i, j))).toBeCloseTo(1, 2);
    expect(covariance).toHaveLength(2);
  });

  it('two coupons fix a line and leave nothing to judge it by', () => {
    const { covariance, degreesOfFreedom, coefficients } = refineFit(
      seriesOf(exactCoupons(straight, [20, 60])),
      [3, 2.1],
    );
    expect([covariance, degreesOfFreedom]).toEqual([null, 0]);
    expect(coefficients[1]).toBeCloseTo(2.1, 2);
  });

  it('three coupons leave one degree of freedom, which is enough', () => {
    const three = refineFit(seriesOf(exactCoupons(straight, [20, 40, 60])), [3, 2.1]);
    expect(three.degreesOfFreedom).toBe(1);
    expect(three.covariance).not.toBeNull();
  });
});

it('never converges to a curve that turns over', () => {
  // The colours of a falling curve: the best line through them falls too, so the start stays.
  const falling = { offsetNm: 150, slopeNmPerV: -0.5, curvatureNmPerV2: 0 };
  const { coefficients, covariance } = refineFit(seriesOf(exactCoupons(falling, voltagesV)), [120, 0.05]);
  expect(coefficients).toEqual([120, 0.05]);
  expect(covariance).toBeNull();
});
