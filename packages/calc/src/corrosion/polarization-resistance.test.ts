import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { CalcError } from '../errors.ts';
import { fitPolarizationResistance, type PolarizationPoint } from './polarization-resistance.ts';
import { corrosionCurrentDensity } from './rate.ts';

/** Butler-Volmer about the corrosion potential, A for `areaCm2`, with a resistance in the solution. */
function scan({
  corrosionPotentialV,
  microampPerCm2,
  areaCm2,
  ba,
  bc,
  halfWidthV,
}: {
  corrosionPotentialV: number;
  microampPerCm2: number;
  areaCm2: number;
  ba: number;
  bc: number;
  halfWidthV: number;
}): PolarizationPoint[] {
  return Array.from({ length: 61 }, (_, i) => {
    const over = halfWidthV * (i / 30 - 1);
    const currentA = 1e-6 * microampPerCm2 * areaCm2 * (10 ** (over / ba) - 10 ** (-over / bc));
    return { potentialV: corrosionPotentialV + over, currentA };
  });
}

const symmetric = {
  corrosionPotentialV: -0.45,
  microampPerCm2: 20,
  areaCm2: 10,
  ba: 0.12,
  bc: 0.12,
  halfWidthV: 0.03,
};

describe('polarization resistance', () => {
  it('C4: 10 cm2, +-10 mV and +-8 uA are 1250 ohm and 12,500 ohm cm2', () => {
    const points = [-1, 0, 1].map((side) => ({ potentialV: -0.45 + 0.01 * side, currentA: 8e-6 * side }));
    const found = fitPolarizationResistance({ points, areaCm2: 10, solutionResistanceOhmCm2: 0 });
    expect(found.polarizationResistanceOhmCm2).toBeCloseTo(12_500, 6);
  });

  it('C2: 24.0 ohm cm2 measured less 1.8 of solution', () => {
    const points = [-2, -1, 0, 1, 2].map((i) => ({ potentialV: 0.004 * i, currentA: (0.004 * i) / 24 }));
    const found = fitPolarizationResistance({ points, areaCm2: 1, solutionResistanceOhmCm2: 1.8 });
    expect(found.measuredOhmCm2).toBeCloseTo(24, 9);
    expect(found.polarizationResistanceOhmCm2).toBeCloseTo(22.2, 9);
    expect(() => fitPolarizationResistance({ points, areaCm2: 1, solutionResistanceOhmCm2: 25 })).toThrow(
      'solutionResistanceOhmCm2 is 25',
    );
  });

  it('finds the current density that made a simulated scan, to 1 % in the 10 mV window', () => {
    const found = fitPolarizationResistance({
      points: scan(symmetric),
      areaCm2: 10,
      solutionResistanceOhmCm2: 0,
    });
    const { microampPerCm2 } = corrosionCurrentDensity({
      polarizationResistanceOhmCm2: found.polarizationResistanceOhmCm2,
      anodicTafelVPerDecade: 0.12,
      cathodicTafelVPerDecade: 0.12,
    });
    expect(Math.abs(microampPerCm2 / 20 - 1)).toBeLessThan(0.01);
    expect(found.corrosionPotentialV).toBeCloseTo(-0.45, 6);
    expect(found.used).toHaveLength(21);
    expect(found.flags).toEqual([]);
  });

  it.each([
    { halfWidthV: 0.005, chordPercent: 0.15 },
    { halfWidthV: 0.01, chordPercent: 0.6 },
    { halfWidthV: 0.02, chordPercent: 2.5 },
    { halfWidthV: 0.03, chordPercent: 5.6 },
  ])('the chord at $halfWidthV V is off by $chordPercent %', ({ halfWidthV, chordPercent }) => {
    const [low, , high] = [-1, 0, 1].map((side) => scan({ ...symmetric, halfWidthV })[30 + 30 * side]);
    const chord =
      ((high?.potentialV ?? NaN) - (low?.potentialV ?? NaN)) /
      ((high?.currentA ?? NaN) - (low?.currentA ?? NaN));
    const slope = 0.12 / (2 * Math.LN10 * 20e-6 * 10);
    // What the chord makes of the corrosion rate, which goes with the inverse.
    const percent = 100 * (slope / chord - 1);
    expect(Math.abs(percent - chordPercent)).toBeLessThan(chordPercent < 1 ? 0.02 : 0.06);
    const wide = fitPolarizationResistance({
      points: scan({ ...symmetric, halfWidthV }),
      areaCm2: 10,
      windowV: halfWidthV,
      solutionResistanceOhmCm2: 0,
    });
    expect(wide.polarizationResistanceOhmCm2).toBeLessThan(10 * slope);
    expect(wide.flags).toHaveLength(halfWidthV > 0.01 ? 1 : 0);
  });

  it('both regressions are those of an independent library, and differ with scatter', () => {
    const points = scan({ ...symmetric, halfWidthV: 0.01 }).map((point, i) => ({
      ...point,
      currentA: point.currentA + (i % 2 ? 2e-5 : -2e-5),
    }));
    const shared = { points, areaCm2: 10, windowV: 0.0105, solutionResistanceOhmCm2: 0 };
    const onCurrent = fitPolarizationResistance(shared);
    const onPotential = fitPolarizationResistance({ ...shared, regress: 'current-on-potential' });
    const inside = onCurrent.used;
    const { m } = linearRegression(inside.map(({ currentA, potentialV }) => [currentA, potentialV]));
    expect(onCurrent.polarizationResistanceOhmCm2).toBeCloseTo(10 * m, 6);
    const { m: siemens } = linearRegression(
      onPotential.used.map(({ currentA, potentialV }) => [potentialV, currentA]),
    );
    expect(onPotential.polarizationResistanceOhmCm2).toBeCloseTo(10 / siemens, 6);
    expect(onPotential.polarizationResistanceOhmCm2).toBeGreaterThan(onCurrent.polarizationResistanceOhmCm2);
    expect(onCurrent.standardErrorOhmCm2).toBeGreaterThan(0);
    expect(onCurrent.rmsResidualV).toBeGreaterThan(0);
  });

  it('says when the solution was not taken off, and refuses scans that show nothing', () => {
    const points = scan(symmetric);
    expect(fitPolarizationResistance({ points, areaCm2: 10 }).flags).toEqual([
      'solution resistance not taken off',
    ]);
    const anodic = points.filter(({ currentA }) => currentA > 0);
    expect(() => fitPolarizationResistance({ points: anodic, areaCm2: 10 })).toThrow('without a change');
    expect(() =>
      fitPolarizationResistance({ points: points.filter((_, i) => i % 15 === 0), areaCm2: 10 }),
    ).toThrow('at least 3');
    const flipped = points.map(({ potentialV, currentA }) => ({ potentialV, currentA: -currentA }));
    expect(() => fitPolarizationResistance({ points: flipped, areaCm2: 10 })).toThrow(CalcError);
  });

  it('for any scan: the area scales, the potential shifts', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 100, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (factor, shift) => {
          const fit = (
            points: PolarizationPoint[],
            areaCm2: number,
          ): ReturnType<typeof fitPolarizationResistance> =>
            fitPolarizationResistance({ points, areaCm2, solutionResistanceOhmCm2: 0, windowV: 0.0105 });
          const one = fit(scan(symmetric), 10);
          const scaled = fit(
            scan({ ...symmetric, areaCm2: 10 * factor, corrosionPotentialV: -0.45 + shift }),
            10 * factor,
          );
          expect(scaled.polarizationResistanceOhmCm2 / one.polarizationResistanceOhmCm2).toBeCloseTo(1, 6);
          expect(scaled.corrosionPotentialV - one.corrosionPotentialV).toBeCloseTo(shift, 6);
        },
      ),
    );
  });
});
