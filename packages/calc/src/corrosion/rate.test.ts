import { describe, expect, it } from 'vitest';
import { workedExamples } from '../../reference/worked-examples.ts';
import { corrosionCurrentDensity, corrosionRate, protectionRatio } from './rate.ts';

const steel = { equivalentWeight: 27.92, densityGPerCm3: 7.87 };

/** Each tolerance is half of the last digit that the source prints. */
describe('worked examples', () => {
  const c1 = () =>
    corrosionCurrentDensity({
      polarizationResistanceOhmCm2: 1250,
      anodicTafelVPerDecade: 0.12,
      cathodicTafelVPerDecade: 0.12,
    });
  const c1Rate = () => corrosionRate({ ...steel, currentDensityUAPerCm2: c1().microampPerCm2 });
  const c2 = () => corrosionCurrentDensity({ polarizationResistanceOhmCm2: 24 - 1.8, sternGearyV: 0.026 });
  const c2Uncorrected = () =>
    corrosionCurrentDensity({ polarizationResistanceOhmCm2: 24, sternGearyV: 0.026 });
  const rate = (currentDensityUAPerCm2: number): number =>
    corrosionRate({ ...steel, currentDensityUAPerCm2 }).mmPerYear;
  const c3 = () => corrosionCurrentDensity({ polarizationResistanceOhmCm2: 45_000, sternGearyV: 0.02 });

  it.each(
    workedExamples([
      // 2.303 against ln 10: 0.02605 printed, 0.026058 here.
      ['C1: B, V', () => c1().sternGearyV, 0.02605, 0.00001],
      ['C1: uA/cm2', () => c1().microampPerCm2, 20.84, 0.01],
      ['C1: mm/year', () => c1Rate().mmPerYear, 0.2418, 0.0002],
      ['C1: mils per year', () => c1Rate().milsPerYear, 9.5, 0.05],
      ['C1: g/(m2 d)', () => c1Rate().gramsPerM2Day, 5.21, 0.005],
      ['C2: uA/cm2', () => c2().microampPerCm2, 1171, 0.5],
      ['C2: mm/year', () => rate(c2().microampPerCm2), 13.6, 0.05],
      ['C2 uncorrected: mm/year', () => rate(c2Uncorrected().microampPerCm2), 12.6, 0.05],
      ['C3: uA/cm2', () => c3().microampPerCm2, 0.444, 0.0005],
      [
        'C3: um/year',
        () =>
          1000 *
          corrosionRate({
            currentDensityUAPerCm2: c3().microampPerCm2,
            equivalentWeight: 25.12,
            densityGPerCm3: 7.94,
          }).mmPerYear,
        4.6,
        0.05,
      ],
      [
        'the constant, mm/year',
        () => corrosionRate({ currentDensityUAPerCm2: 1, equivalentWeight: 1, densityGPerCm3: 1 }).mmPerYear,
        3.2707e-3,
        5e-8,
      ],
      [
        'the constant, g/(m2 d)',
        () =>
          corrosionRate({ currentDensityUAPerCm2: 1, equivalentWeight: 1, densityGPerCm3: 1 }).gramsPerM2Day,
        8.954e-3,
        1e-6,
      ],
      [
        'the constant, mils per year',
        () =>
          corrosionRate({ currentDensityUAPerCm2: 1, equivalentWeight: 1, densityGPerCm3: 1 }).milsPerYear,
        0.1288,
        5e-5,
      ],
    ]),
  )('$name', ({ found, right, within }) => {
    expect(Math.abs(found() - right)).toBeLessThanOrEqual(within);
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
  ])('refuses a bad %s', (argument, input) => {
    expect(() => corrosionCurrentDensity(input)).toThrow(`${argument} is`);
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
