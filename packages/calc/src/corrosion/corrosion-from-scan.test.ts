import { Matrix, inverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../reference/optics/seeded.ts';
import { studentQuantile } from '../numeric/index.ts';
import { corrosionFromScan } from './corrosion-from-scan.ts';

const steel = {
  areaCm2: 10,
  windowV: 0.01,
  sternGearyV: 0.026,
  equivalentWeight: 27.92,
  densityGPerCm3: 7.87,
};
/** A line of 12,500 ohm cm2 through -0.45 V, with noise of the potential in volts. */
function scan(noiseV: number, seed = 1) {
  const random = seeded(seed);
  return Array.from({ length: 21 }, (_, index) => {
    const currentA = (index - 10) * 0.8e-6;
    return { potentialV: -0.45 + 1250 * currentA + noiseV * random.normal(), currentA };
  });
}

describe('the rate that a scan gives', () => {
  it('is that of ASTM G102: 3.27e-3 i EW / density, i = B / Rp', () => {
    const { mmPerYear, microampPerCm2, intervalMmPerYear } = corrosionFromScan({
      ...steel,
      points: scan(0),
      solutionResistanceOhmCm2: 0,
    });
    expect(microampPerCm2).toBeCloseTo((0.026 / 12_500) * 1e6, 9);
    expect(mmPerYear / ((3.27e-3 * microampPerCm2 * 27.92) / 7.87)).toBeCloseTo(1, 3);
    expect(intervalMmPerYear?.low).toBeCloseTo(mmPerYear, 9);
  });

  it('has the interval of a regression by another library', () => {
    const points = scan(1e-4);
    const { intervalMmPerYear, used, mmPerYear } = corrosionFromScan({
      ...steel,
      points,
      windowV: 0.05,
      solutionResistanceOhmCm2: 0,
    });
    expect(used).toBe(21);
    const design = new Matrix(points.map(({ currentA }) => [1, currentA]));
    const y = Matrix.columnVector(points.map(({ potentialV }) => potentialV));
    const normal = inverse(design.transpose().mmul(design));
    const slope = normal.mmul(design.transpose()).mmul(y);
    const residuals = Matrix.sub(y, design.mmul(slope)).to1DArray();
    const variance = residuals.reduce((sum, one) => sum + one ** 2, 0) / (points.length - 2);
    const spare =
      studentQuantile({ probability: 0.975, degreesOfFreedom: 19 }) * Math.sqrt(variance * normal.get(1, 1));
    const factor = (slope.get(1, 0) + spare) / slope.get(1, 0);
    expect(intervalMmPerYear?.low).toBeCloseTo(mmPerYear / factor, 10);
  });

  it('holds the truth in 95 of 100 noisy scans', () => {
    const held = Array.from({ length: 400 }, (_, seed) => {
      const { intervalMmPerYear } = corrosionFromScan({
        ...steel,
        points: scan(1e-4, seed + 1),
        windowV: 0.05,
        solutionResistanceOhmCm2: 0,
      });
      const truth = (3.2707e-3 * 2.08 * 27.92) / 7.87;
      return (
        intervalMmPerYear !== null &&
        truth > intervalMmPerYear.low * 0.9999 &&
        truth < intervalMmPerYear.high * 1.0001
      );
    }).filter(Boolean).length;
    expect(held).toBeGreaterThan(365);
    expect(held).toBeLessThan(395);
  });

  it('says nothing of an interval where the scatter is as large as the slope, and refuses what is no scan', () => {
    const points = [
      { potentialV: -0.455, currentA: -4e-6 },
      { potentialV: -0.445, currentA: 1e-6 },
      { potentialV: -0.45, currentA: 4e-6 },
    ];
    const { intervalMmPerYear } = corrosionFromScan({ ...steel, points, solutionResistanceOhmCm2: 0 });
    expect(intervalMmPerYear).toBeNull();
    const anodic = scan(0).map((point) => ({ ...point, currentA: Math.abs(point.currentA) + 1e-9 }));
    expect(() => corrosionFromScan({ ...steel, points: anodic })).toThrow('points');
    expect(() => corrosionFromScan({ ...steel, points: scan(0), sternGearyV: 26 })).toThrow('sternGearyV');
  });

  it('flags a solution resistance that nobody took off', () => {
    expect(corrosionFromScan({ ...steel, points: scan(0) }).flags.join()).toContain('solution resistance');
  });
});
