import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import {
  anodizingThickness,
  anodizingTime,
  chargeForThickness,
  CURRENT_DENSITIES,
  currentProfile,
  fallingCurrent,
  ohmicDrop,
  OXIDE_NAMES,
  type OxideName,
  OXIDES,
  oxideThickness,
} from './index.ts';

const A_PER_FT2 = 1 / 0.09290304;

describe('Faraday thickness, table derived from CRC Handbook densities', () => {
  const rows = readCsv('electro/oxide_films.csv').map((row) => [row['oxide'] as OxideName, row] as const);

  it.each(rows)('%s', (oxide, row) => {
    const perCoulomb = oxideThickness({ chargeCPerM2: 10_000, oxide, efficiency: 1 }).thicknessNm;
    // One decimal is printed; 1 A min/dm2 is 6000 C/m2.
    expect(perCoulomb).toBeCloseTo(Number(row['nm_per_C_cm2']), 1 - 0.31);
    expect((perCoulomb * 0.6) / 1000).toBeCloseTo(Number(row['um_per_Amin_dm2']), 4);
    const { chargeCPerM2 } = chargeForThickness({ thicknessNm: 100, oxide, efficiency: 1 });
    expect(chargeCPerM2 / 10_000).toBeCloseTo(Number(row['C_cm2_per_100nm']), 4);
  });

  it('has a row for every oxide', () => {
    expect(rows.map(([oxide]) => oxide).sort()).toEqual([...OXIDE_NAMES].sort());
  });

  it('titanium to 100 nm takes 0.19 C/cm2: 94 s at 2 mA/cm2', () => {
    const { chargeCPerM2 } = chargeForThickness({ thicknessNm: 100, oxide: 'TiO2_anatase', efficiency: 1 });
    expect(chargeCPerM2 / 20).toBeCloseTo(94.2, 1);
  });

  it('thickness and charge are inverses', () => {
    const efficiency = fc.double({ min: 0.001, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.constantFrom(...OXIDE_NAMES),
        fc.double({ min: 1e-9, max: 1e6, noNaN: true }),
        efficiency,
        (...[oxide, chargeCPerM2, share]) => {
          const { thicknessNm } = oxideThickness({ chargeCPerM2, oxide, efficiency: share });
          const back = chargeForThickness({ thicknessNm, oxide, efficiency: share }).chargeCPerM2;
          expect(Math.abs(back - chargeCPerM2)).toBeLessThanOrEqual(1e-12 * chargeCPerM2);
        },
      ),
    );
  });

  it.each([
    ['unknown oxide', { chargeCPerM2: 1, oxide: 'TiO2' as OxideName }, 'oxide'],
    ['efficiency above one', { chargeCPerM2: 1, oxide: 'ZrO2' as const, efficiency: 1.01 }, 'efficiency'],
    ['no efficiency at all', { chargeCPerM2: 1, oxide: 'ZrO2' as const, efficiency: 0 }, 'efficiency'],
    ['negative charge', { chargeCPerM2: -1, oxide: 'ZrO2' as const }, 'chargeCPerM2'],
  ])('refuses %s', (...[, given, argument]) => {
    expect(() => oxideThickness(given)).toThrowError(expect.objectContaining({ argument }));
  });
});

describe('pitfall: electrons per formula unit, and efficiency on steel', () => {
  it('magnetite takes 8 electrons and niobium oxide 10', () => {
    expect(OXIDES.Fe3O4.electrons).toBe(8);
    expect(OXIDES.Nb2O5.electrons).toBe(10);
  });

  it('steel at 100 mA/cm2 for 10 min: 34.8 um is a bound, never a prediction', () => {
    const charge = { chargeCPerM2: 1000 * 600, oxide: 'Fe3O4' } as const;
    const bound = oxideThickness(charge);
    expect(bound.thicknessNm / 1000).toBeCloseTo(34.8, 1);
    expect(bound.upperBound).toBe(true);
    expect(bound.flags).toEqual([
      expect.stringMatching(/efficiency not known/),
      expect.stringMatching(/1 to 10 %/),
    ]);
    expect(oxideThickness({ ...charge, efficiency: 0.05 })).toMatchObject({ upperBound: false, flags: [] });
    expect(oxideThickness({ ...charge, efficiency: 0.05 }).thicknessNm).toBeCloseTo(
      bound.thicknessNm / 20,
      9,
    );
  });

  it('without an efficiency the charge is the least that could do', () => {
    expect(chargeForThickness({ thicknessNm: 100, oxide: 'TiO2_rutile' })).toMatchObject({
      lowerBound: true,
    });
    expect(chargeForThickness({ thicknessNm: 100, oxide: 'TiO2_rutile' }).flags).toHaveLength(1);
  });
});

describe('anodizing time, rule of 720', () => {
  it.each(
    readCsv('electro/rule_of_720.csv').map((row) => [Number(row['a_per_ft2']), Number(row['minutes'])]),
  )('one mil at %d A/ft2 takes %d min', (asf, minutes) => {
    const { timeS, flags } = anodizingTime({ thicknessUm: 25.4, currentDensityAPerM2: asf * A_PER_FT2 });
    expect(timeS / 60).toBeCloseTo(minutes, 9);
    expect(flags).toEqual([]);
  });

  it.each([
    ['0.5 mil at 15 A/ft2', 12.7, 15 * A_PER_FT2, 24],
    ['15 um at 1.5 A/dm2', 15, 150, 30.5],
    ['10 um at 1.2 A/dm2', 10, 120, 25.4],
  ])('%s: worked example', (...[, thicknessUm, currentDensityAPerM2, minutes]) => {
    expect(anodizingTime({ thicknessUm, currentDensityAPerM2 }).timeS / 60).toBeCloseTo(minutes, 1);
  });

  it('a shop may set its own constant: 312 is 2.3 % more', () => {
    const work = { thicknessUm: 15, currentDensityAPerM2: 150 };
    const ratio = anodizingTime({ ...work, ruleConstant: 312 }).timeS / anodizingTime(work).timeS;
    expect(ratio).toBeCloseTo(1.023, 3);
  });

  it('time and thickness are inverses', () => {
    const positive = (max: number) => fc.double({ min: 0.1, max, noNaN: true });
    fc.assert(
      fc.property(positive(100), positive(1000), (thicknessUm, currentDensityAPerM2) => {
        const { timeS } = anodizingTime({ thicknessUm, currentDensityAPerM2 });
        fc.pre(timeS <= 86_400);
        expect(anodizingThickness({ timeS, currentDensityAPerM2 }).thicknessUm).toBeCloseTo(thicknessUm, 9);
      }),
    );
  });

  it('flags what the published times do not cover', () => {
    const slow = anodizingTime({ thicknessUm: 15, currentDensityAPerM2: 50 });
    expect(slow.flags).toEqual([expect.stringMatching(/outside 129 to 431/)]);
    const thick = anodizingThickness({ timeS: 7200, currentDensityAPerM2: 150 });
    expect(thick.flags).toEqual([expect.stringMatching(/above 25.4/)]);
  });
});

describe('pitfall: the rule of 720 used for titanium or steel', () => {
  it.each(['titanium', 'steel'])('%s is refused', (metal) => {
    const given = { thicknessUm: 1, currentDensityAPerM2: 150, metal };
    expect(() => anodizingTime(given)).toThrowError(/metal is \w+; allowed: aluminium/);
    expect(() => anodizingThickness({ ...given, timeS: 60 })).toThrowError(/aluminium/);
  });

  it('aluminium is taken', () => {
    expect(
      anodizingTime({ thicknessUm: 15, currentDensityAPerM2: 150, metal: 'aluminium' }).timeS,
    ).toBeGreaterThan(0);
  });
});

describe('pitfall: ohmic drop forgotten', () => {
  // Published drops in 50 wt% KOH; its conductivity is printed with two figures (82 S/m at 60 °C, 106 at 80 °C), so the
  // last figure of a drop may differ by one.
  it.each([
    [0.05, 82, 0.61],
    [0.1, 82, 1.21],
    [0.15, 82, 1.82],
    [0.05, 106, 0.47],
  ])('100 mA/cm2 over %d m at %d S/m loses %d V of a 2 to 3 V cell', (gapM, conductivitySPerM, published) => {
    const { dropV } = ohmicDrop({ currentDensityAPerM2: 1000, gapM, conductivitySPerM });
    expect(Math.abs(dropV - published)).toBeLessThan(0.01);
  });

  it('S/cm in a field for S/m is refused as no liquid, or shows at once', () => {
    expect(
      ohmicDrop({ currentDensityAPerM2: 1000, gapM: 0.05, conductivitySPerM: 0.82 }).dropV,
    ).toBeGreaterThan(60);
    expect(() => ohmicDrop({ currentDensityAPerM2: 1000, gapM: 0.05, conductivitySPerM: 8200 })).toThrowError(
      /at most 1000/,
    );
  });
});

describe('current profile', () => {
  const step = {
    peakAPerM2: 200,
    steadyAPerM2: 5,
    timeConstantS: 12,
    durationS: 180,
    areaM2: 0.168,
    voltageV: 28,
  };

  it('adds up to what a fine sum over the curve gives', () => {
    const steps = 100_000;
    const width = step.durationS / steps;
    let charge = 0;
    for (let i = 0; i < steps; i++) {
      const t = (i + 0.5) * width;
      charge +=
        (step.steadyAPerM2 + (step.peakAPerM2 - step.steadyAPerM2) * Math.exp(-t / step.timeConstantS)) *
        width;
    }
    const profile = currentProfile(step);
    // The midpoint rule errs by width^2/24 of the fall: 1e-7 here.
    expect(profile.chargeCPerM2 / charge).toBeCloseTo(1, 7);
    expect(profile.meanCurrentDensityAPerM2 * step.durationS).toBeCloseTo(profile.chargeCPerM2, 9);
    expect(profile.energyKwh * 3.6e6).toBeCloseTo(profile.chargeC * 28, 6);
  });

  it('is constant where peak and steady are equal', () => {
    const flat = currentProfile({
      ...step,
      peakAPerM2: 150,
      steadyAPerM2: 150,
      durationS: 1800,
      areaM2: 1,
      voltageV: 16,
    });
    expect(flat).toMatchObject({
      peakCurrentA: 150,
      meanCurrentA: 150,
      finalCurrentA: 150,
      chargeCPerM2: 270_000,
      energyKwh: 1.2,
    });
  });

  it('lies between steady and peak at any time, and never takes more charge for less time', () => {
    const time = fc.double({ min: 1e-6, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(time, time, (one, other) => {
        const [short, long] = [Math.min(one, other), Math.max(one, other)];
        const [early, late] = [
          currentProfile({ ...step, durationS: short }),
          currentProfile({ ...step, durationS: long }),
        ];
        expect(late.chargeC).toBeGreaterThanOrEqual(early.chargeC);
        for (const { finalCurrentA, meanCurrentA, peakCurrentA } of [early, late]) {
          expect(meanCurrentA).toBeLessThanOrEqual(peakCurrentA * (1 + 1e-12));
          expect(finalCurrentA).toBeLessThanOrEqual(meanCurrentA * (1 + 1e-12));
          expect(finalCurrentA).toBeGreaterThanOrEqual(5 * 0.168 * (1 - 1e-12));
        }
      }),
    );
  });

  it('refuses a peak below the steady value, by name', () => {
    expect(() => currentProfile({ ...step, peakAPerM2: 4 })).toThrowError(
      /peakAPerM2 is 4; allowed: at least the steady/,
    );
    expect(() => currentProfile({ ...step, durationS: 0 })).toThrowError(/durationS/);
  });
});

describe('a falling current', () => {
  const current = { peakAPerM2: 200, steadyAPerM2: 10, timeConstantS: 8 };

  it('has 1/e of its way left after one time constant', () => {
    expect(fallingCurrent({ ...current, afterS: 0 })).toEqual({ currentDensityAPerM2: 200, chargeCPerM2: 0 });
    const { currentDensityAPerM2: left } = fallingCurrent({ ...current, afterS: 8 });
    expect((left - 10) / 190).toBeCloseTo(0.367879441171, 12);
  });

  it('is steady where it has no time constant', () => {
    expect(fallingCurrent({ ...current, timeConstantS: null, afterS: 100 })).toEqual({
      currentDensityAPerM2: 10,
      chargeCPerM2: 1000,
    });
  });

  it.each([
    [{ peakAPerM2: -1 }, /peakAPerM2 is -1/],
    [{ steadyAPerM2: NaN }, /steadyAPerM2 is NaN/],
    [{ timeConstantS: 0 }, /timeConstantS is 0/],
    [{ afterS: -1 }, /afterS is -1/],
  ])('refuses %j by name', (wrong, message) => {
    expect(() => fallingCurrent({ ...current, afterS: 8, ...wrong })).toThrowError(message);
  });
});

it('reported current densities are ordered ranges with their source', () => {
  for (const { rangeAPerM2, source, evidence } of CURRENT_DENSITIES) {
    expect(rangeAPerM2[0]).toBeLessThanOrEqual(rangeAPerM2[1]);
    expect(source).not.toBe('');
    expect(evidence === 'C').toBe(source.includes('no source'));
  }
});
