import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { additionDoubts, levelAfter } from './addition-doubts.ts';
import { additionSize, analysesAgree, secondAnalysis } from './addition-size.ts';
import { impossibleAmount } from './impossible-amount.ts';
import { methodFit } from './method-fit.ts';
import { portionGate, releaseDoubts } from './release-doubts.ts';
import { resultJump } from './result-jump.ts';
import { mixingDangers, waterDangers } from './stock-fit.ts';

const strength = (value: number, extra: Partial<Parameters<typeof resultJump>[0]> = {}) =>
  resultJump({
    unit: 'massFraction',
    isStrength: true,
    result: { value, standardUncertainty: 0.0025 },
    previous: { value: 0.4976, standardUncertainty: 0.0025 },
    expected: null,
    days: 0,
    carriedOutShare: 0,
    ...extra,
  });

describe('a decimal point slipped in a titration of 49.76 wt%', () => {
  it('is a jump to 7.10 wt%, as far off as a decimal point', () => {
    expect(strength(0.071)).toMatchObject({ previous: 0.4976, tenfold: true });
  });
  it('is a jump after a year too', () => {
    expect(strength(0.071, { days: 365, carriedOutShare: 0.2 })).not.toBeNull();
  });
  it('is not confused with a bath that work drew down', () => {
    // exp(-0.15) of 49.76 wt% is 42.8 wt%.
    expect(strength(0.428, { days: 20, carriedOutShare: 0.15 })).toBeNull();
    expect(strength(0.428)).toMatchObject({ tenfold: false });
  });
  it('is measured from what was added since, not from before it', () => {
    expect(
      strength(0.5, { previous: { value: 0.42, standardUncertainty: 0.002 }, expected: 0.5 }),
    ).toBeNull();
    expect(
      strength(0.42, { previous: { value: 0.42, standardUncertainty: 0.002 }, expected: 0.5 }),
    ).not.toBeNull();
  });
});

describe('other figures', () => {
  const other = (
    unit: 'gramsPerLitre' | 'pH' | 'siemensPerM' | 'judgement',
    { from, to, days = 7 }: { from: number; to: number; days?: number },
  ) =>
    resultJump({
      unit,
      isStrength: false,
      result: { value: to, standardUncertainty: null },
      previous: { value: from, standardUncertainty: null },
      expected: null,
      days,
      carriedOutShare: 0,
    });
  it.each([
    ['metal that doubles in a week', 'gramsPerLitre', 3, 6, false],
    ['metal ten times as much in a week', 'gramsPerLitre', 3, 30, true],
    ['a cleaner off by one pH', 'pH', 12.4, 11.5, false],
    ['pH 1.2 for 12.4', 'pH', 12.4, 1.2, true],
    ['a rinse that work soiled', 'siemensPerM', 0.004, 0.018, false],
    ['µS taken for mS', 'siemensPerM', 0.004, 4, true],
    ['a look', 'judgement', 1, 0, false],
  ] as const)('%s', (...[, unit, from, to, jumps]) => {
    expect(other(unit, { from, to }) !== null).toBe(jumps);
  });
});

it('a result never jumps from itself, and a wider record never makes a jump of none', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1e-4, max: 0.8, noNaN: true }),
      fc.double({ min: 1e-4, max: 0.8, noNaN: true }),
      fc.double({ min: 0, max: 1000, noNaN: true }),
      (one, other, days) => {
        const at = (value: number, extra: number) =>
          strength(value, { previous: { value: one, standardUncertainty: 0 }, days: extra });
        expect(at(one, 0)).toBeNull();
        if (at(other, days) === null) expect(at(other, days + 1)).toBeNull();
      },
    ),
  );
});

describe('a method of another bath', () => {
  it('finds sulfuric acid in caustic', () => {
    expect(methodFit({ found: ['H2SO4'], watched: ['KOH', 'K2CO3'], side: 'alkali' })).toEqual({
      found: ['H2SO4'],
      expected: ['KOH', 'K2CO3'],
    });
  });
  it('finds sodium hydroxide where potassium hydroxide is watched', () => {
    expect(methodFit({ found: ['NaOH', 'Na2CO3'], watched: ['KOH'], side: 'alkali' })).not.toBeNull();
  });
  it('is told by the contents where nothing is watched', () => {
    expect(methodFit({ found: ['H2SO4'], watched: [], side: 'alkali' })).not.toBeNull();
    expect(methodFit({ found: ['H2SO4'], watched: [], side: 'acid' })).toBeNull();
    expect(methodFit({ found: ['H2SO4'], watched: [], side: null })).toBeNull();
  });
  it('is not suspected for metal, pH or what else is watched', () => {
    expect(methodFit({ found: ['pH'], watched: ['KOH'], side: 'alkali' })).toBeNull();
    expect(methodFit({ found: ['totalAlkali', 'KOH'], watched: ['KOH'], side: 'alkali' })).toBeNull();
    expect(methodFit({ found: ['Al'], watched: ['H2SO4'], side: 'acid' })).toBeNull();
  });
});

describe('the wrong thing into a bath', () => {
  const caustic = { solute: 'KOH', side: 'alkali', hasFluoride: false, isOrganic: false } as const;
  const acid = { solute: 'H2SO4', side: 'acid', hasFluoride: false, isOrganic: false } as const;
  const etch = { solute: null, side: 'acid', hasFluoride: true, isOrganic: false } as const;
  const dye = { solute: null, side: null, hasFluoride: false, isOrganic: true } as const;
  const stock = (solute: string | null, ...hazards: string[]) => ({ solute, hazards });
  it.each([
    ['96 % sulfuric acid into 48 % caustic', stock('H2SO4', 'corrosive'), caustic, ['acid-into-alkali']],
    ['caustic flake into sulfuric acid', stock('KOH', 'corrosive'), acid, ['alkali-into-acid']],
    ['potassium fluoride into sulfuric acid', stock(null, 'fluoride', 'toxic'), acid, ['fluoride-into-acid']],
    ['sulfuric acid into a fluoride etch', stock('H2SO4', 'corrosive'), etch, ['acid-into-fluoride']],
    ['soda into acid', stock('Na2CO3'), acid, ['alkali-into-acid', 'carbonate-into-acid']],
    ['ammonium sulfate into caustic', stock('NH4_2SO4'), caustic, ['ammonium-into-alkali']],
    ['nitric acid into dye', stock(null, 'oxidising', 'corrosive'), dye, ['oxidiser-into-organic']],
    ['a corrosive nobody classed', stock(null, 'corrosive'), caustic, ['unknown-corrosive']],
    ['caustic into caustic', stock('KOH', 'corrosive'), caustic, []],
    ['dye into dye', stock(null, 'sensitising'), dye, []],
  ])('%s', (...[, one, bath, dangers]) => {
    expect(mixingDangers({ stock: one, bath })).toEqual(dangers);
  });
  it('water into concentrated acid', () => {
    expect(waterDangers({ solute: 'H2SO4', massFraction: 0.96 })).toEqual(['water-into-acid']);
    expect(waterDangers({ solute: 'H2SO4', massFraction: 0.16 })).toEqual([]);
    expect(waterDangers({ solute: 'KOH', massFraction: 0.5 })).toEqual([]);
  });
});

describe('an addition of more than half the bath', () => {
  it('asks for a second analysis, at a tenth by default or at what the shop says', () => {
    expect(additionSize({ stockKg: 16.59, bathKg: 280 }).needsSecondAnalysis).toBe(false);
    expect(additionSize({ stockKg: 169, bathKg: 280 }).needsSecondAnalysis).toBe(true);
    expect(additionSize({ stockKg: 16.59, bathKg: 280, mostShare: 0.05 }).needsSecondAnalysis).toBe(true);
  });
  it('says what there is instead', () => {
    const asked = { stockKg: 169, bathKg: 290 };
    const found = (value: number) => ({ value, standardUncertainty: 0.0025 });
    expect(secondAnalysis({ ...asked, analyses: [] })?.have).toBe('none');
    expect(secondAnalysis({ ...asked, analyses: [found(0.071)] })).toMatchObject({ have: 'one' });
    expect(secondAnalysis({ ...asked, analyses: [found(0.071), found(0.4976)] })?.have).toBe(
      'two-that-differ',
    );
    expect(secondAnalysis({ ...asked, analyses: [found(0.35), found(0.351)] })).toBeNull();
    expect(secondAnalysis({ ...asked, mostShare: 0.6, analyses: [] })).toBeNull();
  });
  it('does not go by two analyses that agree while another strength was typed into the plan', () => {
    const found = (massFraction: number) => ({
      value: massFraction,
      standardUncertainty: 0.003,
      massFraction,
    });
    const asked = { stockKg: 169, bathKg: 290, analyses: [found(0.493), found(0.4935)] };
    expect(secondAnalysis({ ...asked, startMassFraction: 0.071 })?.have).toBe('another-start');
    expect(secondAnalysis({ ...asked, startMassFraction: 0.49 })).toBeNull();
    expect(secondAnalysis({ ...asked, startMassFraction: null })).toBeNull();
  });
  it('is not confirmed by an analysis that found another bath', () => {
    const u = { standardUncertainty: 0.0025 };
    expect(analysesAgree({ value: 0.071, ...u }, { value: 0.4976, ...u })).toBe(false);
    expect(analysesAgree({ value: 0.4971, ...u }, { value: 0.4976, ...u })).toBe(true);
  });
});

describe('an addition that the tank has no room for', () => {
  const given = { volumeL: 200, roomL: 220, beforeC: null, afterC: null, stopAboveC: null, maxC: null };
  const water = (kg: number) => ({ action: 'add-water', kg, volumeL: kg }) as const;
  const decant = (kg: number) => ({ action: 'decant', kg, volumeL: kg }) as const;
  it('rises above it, also only for a while', () => {
    expect(additionDoubts({ ...given, moves: [water(30)] })).toEqual([
      { code: 'stands-too-high', standsL: 230, roomL: 220 },
    ]);
    expect(additionDoubts({ ...given, moves: [water(30), decant(30)] })).toHaveLength(1);
    expect(additionDoubts({ ...given, moves: [decant(30), water(30)] })).toEqual([]);
  });
  it('takes more than stands in it', () => {
    expect(additionDoubts({ ...given, moves: [decant(230)] })).toEqual([
      { code: 'takes-too-much', takenL: 230, stoodL: 200 },
    ]);
  });
  it('counts what is weighed: flake, and water without its litres', () => {
    const moves = [
      { action: 'add-stock', kg: 43.5, volumeL: null },
      { action: 'add-water', kg: 4, volumeL: null },
    ] as const;
    expect(levelAfter({ volumeL: 400, moves }).highestL).toBeCloseTo(423.575, 9);
  });
  it('says nothing where nobody read the level, or where it only falls from above', () => {
    expect(additionDoubts({ ...given, volumeL: null, moves: [water(999)] })).toEqual([]);
    expect(additionDoubts({ ...given, volumeL: 240, moves: [decant(10)] })).toEqual([]);
  });
  it('was begun at 92 °C where portions stop at 90 °C, and ended above what the tank may be', () => {
    const hot = { ...given, moves: [], beforeC: 92, afterC: 97, stopAboveC: 90, maxC: 95 };
    expect(additionDoubts(hot).map(({ code }) => code)).toEqual(['began-too-hot', 'ended-too-hot']);
  });
});

describe('a bath that nobody should work in yet', () => {
  const release = { temperatureC: 60, mixedS: 1800, minC: 40, maxC: 95, sampledAfterS: null };
  it('was released at 5 °C and unmixed, in a tank of 40 to 95 °C', () => {
    expect(releaseDoubts({ ...release, temperatureC: 5, mixedS: 0 }).map(({ code }) => code)).toEqual([
      'too-cold',
      'mixed-too-short',
    ]);
  });
  it('was confirmed by a sample of two minutes after the addition', () => {
    expect(releaseDoubts({ ...release, sampledAfterS: 120 })).toEqual([
      { code: 'sampled-too-soon', afterS: 120, leastS: 900 },
    ]);
  });
  it('is fine when nothing speaks against it', () => {
    expect(releaseDoubts(release)).toEqual([]);
    expect(releaseDoubts({ ...release, minC: null, maxC: null, temperatureC: 99 })).toEqual([]);
  });
});

it('portions stop where one more would pass the highest temperature of the tank', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 10, max: 95, noNaN: true }),
      fc.double({ min: 20, max: 120, noNaN: true }),
      fc.double({ min: 0, max: 5, noNaN: true }),
      (workingTemperatureC, maxC, riseK) => {
        const gate = portionGate({ workingTemperatureC, maxC, riseK });
        expect(gate.stopAboveC + riseK).toBeLessThanOrEqual(maxC + 1e-9);
        expect(gate.resumeBelowC).toBeLessThanOrEqual(gate.stopAboveC);
      },
    ),
  );
});

describe('a figure that no bath can have', () => {
  it.each([
    ['less than nothing', 'K2CO3', 'gramsPerLitre', -5, true],
    ['1790 g/L of caustic', 'KOH', 'gramsPerLitre', 1790, true],
    ['48.9 as a share', 'KOH', 'massFraction', 48.9, true],
    ['97 wt% of caustic', 'KOH', 'massFraction', 0.97, true],
    ['96 wt% of sulfuric acid', 'H2SO4', 'massFraction', 0.96, false],
    ['pH 41', 'pH', 'pH', 41, true],
    ['pH below zero', 'pH', 'pH', -0.5, false],
    ['iron of the shop’s own', 'Fe', 'gramsPerLitre', 12, false],
  ] as const)('%s', (...[, component, unit, value, refused]) => {
    expect(impossibleAmount({ component, unit, value, referenceTemperatureC: null }) !== null).toBe(refused);
  });
});
