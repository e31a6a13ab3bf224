import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { CalcError } from '../errors.ts';
import { dissolvingMetals, type DissolvingMetal } from './data/equivalent-weights.ts';
import { equivalentWeight } from './equivalent-weight.ts';
import { fitPolarizationResistance, type PolarizationPoint } from './polarization-resistance.ts';
import { corrosionCurrentDensity, corrosionRate, protectionRatio } from './rate.ts';

const steel = { equivalentWeight: 27.92, densityGPerCm3: 7.87 };

/** Each tolerance is half of the last digit that the source prints. */
describe('worked examples of the reference', () => {
  const c1 = corrosionCurrentDensity({
    polarizationResistanceOhmCm2: 1250,
    anodicTafelVPerDecade: 0.12,
    cathodicTafelVPerDecade: 0.12,
  });
  const c1Rate = corrosionRate({ ...steel, currentDensityUAPerCm2: c1.microampPerCm2 });
  const c2 = corrosionCurrentDensity({ polarizationResistanceOhmCm2: 24 - 1.8, sternGearyV: 0.026 });
  const c2Uncorrected = corrosionCurrentDensity({ polarizationResistanceOhmCm2: 24, sternGearyV: 0.026 });
  const rate = (currentDensityUAPerCm2: number): number =>
    corrosionRate({ ...steel, currentDensityUAPerCm2 }).mmPerYear;
  const c3 = corrosionCurrentDensity({ polarizationResistanceOhmCm2: 45_000, sternGearyV: 0.02 });

  it.each([
    // 2.303 against ln 10: 0.02605 printed, 0.026058 here.
    ['C1: B, V', c1.sternGearyV, 0.02605, 0.00001],
    ['C1: uA/cm2', c1.microampPerCm2, 20.84, 0.01],
    ['C1: mm/year', c1Rate.mmPerYear, 0.2418, 0.0002],
    ['C1: mils per year', c1Rate.milsPerYear, 9.5, 0.05],
    ['C1: g/(m2 d)', c1Rate.gramsPerM2Day, 5.21, 0.005],
    ['C2: uA/cm2', c2.microampPerCm2, 1171, 0.5],
    ['C2: mm/year', rate(c2.microampPerCm2), 13.6, 0.05],
    ['C2 uncorrected: mm/year', rate(c2Uncorrected.microampPerCm2), 12.6, 0.05],
    ['C3: uA/cm2', c3.microampPerCm2, 0.444, 0.0005],
    [
      'C3: um/year',
      1000 *
        corrosionRate({
          currentDensityUAPerCm2: c3.microampPerCm2,
          equivalentWeight: 25.12,
          densityGPerCm3: 7.94,
        }).mmPerYear,
      4.6,
      0.05,
    ],
    [
      'the constant, mm/year',
      corrosionRate({ currentDensityUAPerCm2: 1, equivalentWeight: 1, densityGPerCm3: 1 }).mmPerYear,
      3.2707e-3,
      5e-8,
    ],
    [
      'the constant, g/(m2 d)',
      corrosionRate({ currentDensityUAPerCm2: 1, equivalentWeight: 1, densityGPerCm3: 1 }).gramsPerM2Day,
      8.954e-3,
      1e-6,
    ],
    [
      'the constant, mils per year',
      corrosionRate({ currentDensityUAPerCm2: 1, equivalentWeight: 1, densityGPerCm3: 1 }).milsPerYear,
      0.1288,
      5e-5,
    ],
  ])('%s', (_name, found, right, within) => {
    expect(Math.abs(found - right)).toBeLessThanOrEqual(within);
  });
});

describe('equivalent weights', () => {
  const rows = readCsv('corrosion/equivalent_weights.csv');
  const alloys: Record<string, { element: DissolvingMetal; massFraction: number; valence?: number }[]> = {
    'Fe / carbon steel': [{ element: 'Fe', massFraction: 1 }],
    '304 stainless (0.19 Cr n=3; 0.0925 Ni n=2; rest Fe n=2)': [
      { element: 'Cr', massFraction: 0.19 },
      { element: 'Ni', massFraction: 0.0925 },
      { element: 'Fe', massFraction: 0.7175 },
    ],
    '316 stainless (0.17 Cr n=3; 0.12 Ni n=2; 0.025 Mo n=3; rest Fe n=2)': [
      { element: 'Cr', massFraction: 0.17 },
      { element: 'Ni', massFraction: 0.12 },
      { element: 'Mo', massFraction: 0.025 },
      { element: 'Fe', massFraction: 0.685 },
    ],
  };

  it.each(rows)('ASTM G102 definition: $material is $EW, $mm_per_yr_per_uA_cm2 mm/year per uA/cm2', (row) => {
    const material = row['material'] ?? '';
    const pure = Object.keys(dissolvingMetals).find((element) => element === material) as
      DissolvingMetal | undefined;
    const valence = Number(row['valence']);
    const composition = alloys[material] ?? (pure ? [{ element: pure, massFraction: 1, valence }] : []);
    const found = equivalentWeight({ composition });
    expect(Math.abs(found - Number(row['EW']))).toBeLessThan(0.0011);
    const { mmPerYear } = corrosionRate({
      currentDensityUAPerCm2: 1,
      equivalentWeight: found,
      densityGPerCm3: Number(row['density_g_cm3']),
    });
    expect(Math.abs(mmPerYear - Number(row['mm_per_yr_per_uA_cm2']))).toBeLessThan(0.0000151);
  });

  it('the table holds the densities of the reference', () => {
    for (const row of rows) {
      const metal = Object.entries(dissolvingMetals).find(([element]) => element === row['material'])?.[1];
      if (metal) expect(metal.densityGPerCm3).toBe(Number(row['density_g_cm3']));
    }
  });

  it('refuses an alloy that is not whole, and unknown metals', () => {
    const part = [{ element: 'Fe' as const, massFraction: 0.5 }];
    expect(() => equivalentWeight({ composition: part })).toThrow('composition is');
    expect(() => equivalentWeight({ composition: [{ element: 'Xx' as 'Fe', massFraction: 1 }] })).toThrow(
      'element is Xx',
    );
  });
});

/** Butler-Volmer about the corrosion potential, A for `areaCm2`, with a resistance in the solution. */
function scan(given: {
  corrosionPotentialV: number;
  microampPerCm2: number;
  areaCm2: number;
  ba: number;
  bc: number;
  halfWidthV: number;
}): PolarizationPoint[] {
  const { corrosionPotentialV, microampPerCm2, areaCm2, ba, bc, halfWidthV } = given;
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

describe('rates and protection', () => {
  it.each([
    ['sternGearyV', { polarizationResistanceOhmCm2: 100 }],
    [
      'sternGearyV',
      {
        polarizationResistanceOhmCm2: 100,
        sternGearyV: 0.026,
        anodicTafelVPerDecade: 0.1,
        cathodicTafelVPerDecade: 0.1,
      },
    ],
    ['sternGearyV', { polarizationResistanceOhmCm2: 100, anodicTafelVPerDecade: 0.1 }],
    ['polarizationResistanceOhmCm2', { polarizationResistanceOhmCm2: 0, sternGearyV: 0.026 }],
    [
      'cathodicTafelVPerDecade',
      { polarizationResistanceOhmCm2: 100, anodicTafelVPerDecade: 0.1, cathodicTafelVPerDecade: -0.1 },
    ],
  ])('refuses a bad %s', (argument, given) => {
    expect(() => corrosionCurrentDensity(given)).toThrow(`${argument} is`);
  });

  it('a hundredfold protection is an efficiency of 99 %, and harm is said', () => {
    expect(protectionRatio({ bareRate: 0.24, treatedRate: 0.0024 })).toEqual({
      ratio: expect.closeTo(100, 9) as number,
      efficiency: expect.closeTo(0.99, 12) as number,
      relativeUncertainty: 0,
      flags: [],
    });
    const harm = protectionRatio({
      bareRate: 1,
      treatedRate: 1.1,
      bareRelativeUncertainty: 0.1,
      treatedRelativeUncertainty: 0.1,
    });
    expect(harm.efficiency).toBeCloseTo(-0.1, 12);
    expect(harm.relativeUncertainty).toBeCloseTo(Math.SQRT2 / 10, 12);
    expect(harm.flags).toEqual([
      'the treated surface corrodes faster than the bare one',
      'not told from no effect',
    ]);
    expect(() => protectionRatio({ bareRate: 1, treatedRate: 0 })).toThrow('treatedRate is 0');
  });
});
