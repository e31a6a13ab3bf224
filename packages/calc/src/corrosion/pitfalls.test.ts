import { describe, expect, it } from 'vitest';
import { equivalentWeight } from './equivalent-weight.ts';
import { fitPolarizationResistance } from './polarization-resistance.ts';
import { corrosionCurrentDensity, corrosionRate } from './rate.ts';

/** What a first implementation gets wrong, each mistake under its number. */

const points = [-1, 0, 1].map((side) => ({ potentialV: 0.01 * side, currentA: 8e-6 * side }));

describe('pitfalls of corrosion', () => {
  it('23: the resistance in ohm is multiplied by the area, neither kept nor divided', () => {
    const { polarizationResistanceOhmCm2 } = fitPolarizationResistance({
      points,
      areaCm2: 10,
      solutionResistanceOhmCm2: 0,
    });
    expect(polarizationResistanceOhmCm2).toBeCloseTo(12_500, 6);
    for (const wrong of [1250, 125]) expect(polarizationResistanceOhmCm2 / wrong).toBeGreaterThan(9);
  });

  it('23: iron dissolves as Fe2+: equivalent weight 27.92, not 55.84', () => {
    const iron = equivalentWeight({ composition: [{ element: 'Fe', massFraction: 1 }] });
    expect(iron).toBeCloseTo(27.92, 2);
    const rate = (equivalent: number): number =>
      corrosionRate({ currentDensityUAPerCm2: 20.84, equivalentWeight: equivalent, densityGPerCm3: 7.87 })
        .mmPerYear;
    expect(rate(iron)).toBeCloseTo(0.2418, 4);
    expect(rate(55.84) / rate(iron)).toBeCloseTo(2, 3);
  });

  it('23: the solution resistance left in reads 7.5 % low, and is flagged', () => {
    const scan = [-1, 0, 1].map((side) => ({ potentialV: 0.005 * side, currentA: (0.005 * side) / 24 }));
    const left = fitPolarizationResistance({ points: scan, areaCm2: 1 });
    const off = fitPolarizationResistance({ points: scan, areaCm2: 1, solutionResistanceOhmCm2: 1.8 });
    const rate = (polarizationResistanceOhmCm2: number): number =>
      corrosionCurrentDensity({ polarizationResistanceOhmCm2, sternGearyV: 0.026 }).microampPerCm2;
    const low = 1 - rate(left.polarizationResistanceOhmCm2) / rate(off.polarizationResistanceOhmCm2);
    expect(low).toBeCloseTo(0.075, 3);
    expect(left.flags.join()).toContain('not taken off');
    expect(off.flags).toEqual([]);
  });

  it('23: B in millivolts is refused', () => {
    expect(() => corrosionCurrentDensity({ polarizationResistanceOhmCm2: 1250, sternGearyV: 26 })).toThrow(
      'sternGearyV is 26; allowed: more than 0 and at most 0.2',
    );
    const slopes = { anodicTafelVPerDecade: 120, cathodicTafelVPerDecade: 120 };
    expect(() => corrosionCurrentDensity({ polarizationResistanceOhmCm2: 1250, ...slopes })).toThrow(
      'anodicTafelVPerDecade is 120',
    );
  });
});
