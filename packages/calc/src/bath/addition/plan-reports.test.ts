import { describe, expect, it } from 'vitest';
import { a1, flake, planned } from '../../../reference/bath/requests.ts';
import { density } from '../density.ts';
import { waterDensity } from '../density-model.ts';
import { dissolution } from './dissolution.ts';
import { planAddition } from './plan-addition.ts';

const exact = { massFraction: 0, volumeL: 0 };
const liquor = { form: 'liquid', massFraction: 0.5, temperatureC: 25 } as const;
/** Raised, filled and decanted with a liquor that is lukewarm. */
const a2 = {
  solute: 'NaOH',
  volumeL: 600,
  fullVolumeL: 600,
  freeboardL: 0,
  temperatureC: 40,
  massFraction: 0.2,
  targetMassFraction: 0.25,
  stock: liquor,
  uncertainty: exact,
} as const;

const litresOf = (kg: number, liquid: Parameters<typeof density>[0]): number =>
  (1000 * kg) / density(liquid).kgPerM3;

describe('litres of what is taken and given', () => {
  it('bath at its own strength and temperature, liquid stock at its own', () => {
    const { decant, stock, water, steps } = planned(a2);
    expect(decant.kg).toBeGreaterThan(1);
    const bath = { solute: 'NaOH', massFraction: 0.2, temperatureC: 40 } as const;
    expect(decant.volumeL).toBeCloseTo(litresOf(decant.kg, bath), 8);
    const inTheCan = { solute: 'NaOH', massFraction: 0.5, temperatureC: 25 } as const;
    expect(stock.volumeL).toBeCloseTo(litresOf(stock.kg, inTheCan), 8);
    expect(water).toMatchObject({ kg: 0, volumeL: 0 });
    expect(steps.map(({ action, heldBack }) => [action, heldBack])).toEqual([
      ['decant', false],
      ['add-stock', false],
      ['mix-and-cool', false],
      ['analyse', false],
    ]);
  });

  it('the density on the label before any table', () => {
    const { stock } = planned({ ...a2, stock: { ...liquor, densityKgPerM3: 1600 } });
    expect(stock.volumeL).toBeCloseTo(stock.kg / 1.6, 8);
  });

  it('water at 20 °C, and a solid has none', () => {
    const { stock, water, steps } = planned({ ...a2, volumeL: 500, stock: flake, freeboardL: 20 });
    expect(water.kg).toBeGreaterThan(1);
    expect(water.volumeL).toBeCloseTo((1000 * water.kg) / waterDensity(20), 8);
    expect(stock.volumeL).toBeNull();
    expect(steps.map(({ action, volumeL }) => [action, volumeL === null])).toEqual([
      ['add-water', false],
      ['add-stock', true],
      ['mix-and-cool', false],
      ['analyse', false],
    ]);
  });

  it('only water to lower: no step of no stock', () => {
    const { steps } = planned({ ...a1, massFraction: 0.515, uncertainty: exact });
    expect(steps.map(({ action }) => action)).toEqual(['add-water', 'mix-and-cool', 'analyse']);
  });
});

describe('warmth', () => {
  it('is that of the bath that was kept, not of what was decanted', () => {
    const { decant, stock, water, bathBefore, temperatureRiseK, steps } = planned({ ...a2, stock: flake });
    expect(decant.kg).toBeGreaterThan(1);
    const kept = { kg: bathBefore.kg - decant.kg, massFraction: 0.2, temperatureC: 40 };
    const { riseK } = dissolution({
      solute: 'NaOH',
      stock: flake,
      stockKg: stock.kg,
      waterKg: water.kg,
      bath: kept,
    });
    expect(temperatureRiseK).toBeCloseTo(riseK ?? NaN, 10);
    // No water is given, so the one step of stock warms it by as much, in portions of 5 K.
    const given = steps.find(({ action }) => action === 'add-stock');
    expect(given?.riseK).toBeCloseTo(riseK ?? NaN, 10);
    expect(riseK).toBeGreaterThan(5);
    expect(given?.portions).toBe(Math.ceil((riseK ?? NaN) / 5));
  });

  it('one portion where it rises by less than 5 K', () => {
    const { steps } = planned({ ...a1, massFraction: 0.496, uncertainty: exact, fillToMark: false });
    const given = steps.find(({ action }) => action === 'add-stock');
    expect(given?.riseK).toBeGreaterThan(1);
    expect(given?.riseK).toBeLessThan(5);
    expect(given?.portions).toBe(1);
  });

  it('stock and water warm the bath, mixing and waiting do not', () => {
    const { steps } = planned({ ...a2, volumeL: 500, stock: flake, freeboardL: 20 });
    expect(steps.map(({ action, riseK }) => [action, (riseK ?? NaN) > 0])).toEqual([
      ['add-water', true],
      ['add-stock', true],
      ['mix-and-cool', false],
      ['analyse', false],
    ]);
  });
});

describe('flags', () => {
  it('none where nothing is to be said', () => {
    const quiet = { ...a2, volumeL: 500, freeboardL: 20, coldestTemperatureC: 20 };
    expect(planned(quiet).flags).toEqual([]);
    const lowered = { ...a1, volumeL: 380, massFraction: 0.51, fillToMark: false, uncertainty: exact };
    // Of what water does to strong caustic there are only estimates.
    expect(planned(lowered).flags).toEqual([
      'heat capacity of KOH extrapolated: its source ends at 46.53 wt%',
      'expected heat of KOH is an estimate: 48 ± 4 kJ/mol at 50 wt%',
    ]);
  });

  it('of the density at the stronger of the two strengths, before or after', () => {
    const strong = 'density of KOH extrapolated: its source ends at 51.86 wt%';
    expect(planned({ ...a1, massFraction: 0.52 }).flags).toContain(strong);
    expect(planned(a1).flags).not.toContain(strong);
  });

  it('of the solubility, also with a refusal', () => {
    const coldest = 'solubility of KOH extrapolated: its source covers 0 to 20 °C';
    expect(planAddition({ ...a1, targetMassFraction: 0.4, coldestTemperatureC: -5 }).flags).toContain(
      coldest,
    );
    expect(planAddition({ ...a1, coldestTemperatureC: -5 })).toMatchObject({
      possible: false,
      flags: [coldest],
    });
  });

  it('of the heat of solution only where something is dissolved', () => {
    const unknown = 'no heat of solution of Na3PO4 on file';
    const phosphate = {
      ...a1,
      solute: 'Na3PO4',
      temperatureC: 30,
      massFraction: 0.05,
      targetMassFraction: 0.06,
      stock: { form: 'solid', massFraction: 0.43 },
    } as const;
    expect(planned(phosphate).flags).toContain(unknown);
    expect(planned({ ...phosphate, targetMassFraction: 0.04 }).flags).not.toContain(unknown);
  });

  it('a bath that is saturated to the last figure crystallises', () => {
    const given = { ...a1, targetMassFraction: 0.5283, coldestTemperatureC: 20 };
    expect(planAddition(given)).toMatchObject({ possible: false, reason: 'would-crystallise' });
  });
});

describe('uncertainty of lowering', () => {
  it('is that of the water: half a per cent down from an analysis good to 0.3 is no certain thing', () => {
    expect(planned({ ...a1, massFraction: 0.505, fillToMark: false }).uncertain).toBe(true);
    expect(planned({ ...a1, massFraction: 0.52, fillToMark: false }).uncertain).toBe(false);
  });

  it('a bath in order is not uncertain, however little is known of it', () => {
    const { steps, stock, uncertain } = planned({ ...a1, massFraction: 0.5 });
    expect(steps).toEqual([]);
    expect(stock.standardUncertaintyKg).toBeGreaterThan(0);
    expect(uncertain).toBe(false);
  });

  it('a stock too weak to raise it leaves figures', () => {
    const plan = planned({ ...a1, massFraction: 0.5, stock: { form: 'liquid', massFraction: 0.45 } });
    expect(plan.uncertain).toBe(false);
    expect(Number.isFinite(plan.stock.standardUncertaintyKg)).toBe(true);
    expect(Number.isFinite(plan.water.standardUncertaintyKg)).toBe(true);
  });
});

describe('impurity', () => {
  const impure = { ...flake, impurityMassFraction: 0.04 };

  it('a little of a stock that is too impure for a whole bath is no harm', () => {
    const plan = planned({ ...a1, impurity: { gramsPerLitre: 5, targetGramsPerLitre: 25 }, stock: impure });
    expect(plan.decant.kg).toBe(0);
    const broughtInG = plan.stock.kg * 40 + 5 * 400;
    expect(plan.bathAfter.impurityGramsPerLitre).toBeCloseTo(broughtInG / plan.bathAfter.volumeL, 8);
  });

  it('what it brings in counts on top of what is there, and the refusal says so', () => {
    const given = { ...a1, impurity: { gramsPerLitre: 20, targetGramsPerLitre: 22 }, stock: impure };
    expect(planAddition(given)).toMatchObject({
      reason: 'stock-too-impure',
      explanation: 'the stock alone brings in more than 22 g/L of the impurity',
    });
  });

  it('a weak stock is no matter where water alone brings strength and impurity down', () => {
    const given = { ...a1, massFraction: 0.515, stock: { form: 'liquid', massFraction: 0.45 } } as const;
    const clean = { gramsPerLitre: 20, targetGramsPerLitre: 25 };
    expect(planned({ ...given, impurity: clean }).decant.kg).toBe(0);
    const foul = { gramsPerLitre: 60, targetGramsPerLitre: 25 };
    expect(planAddition({ ...given, impurity: foul })).toMatchObject({ reason: 'stock-not-stronger' });
  });

  it('what is decanted for the level takes its impurity along', () => {
    const given = {
      ...a1,
      volumeL: 450,
      massFraction: 0.5,
      impurity: { gramsPerLitre: 24, targetGramsPerLitre: 25 },
      stock: { form: 'liquid', massFraction: 0.45 },
    } as const;
    const { decant, bathAfter } = planned(given);
    expect(decant.volumeL).toBeCloseTo(20, 6);
    expect(bathAfter.impurityGramsPerLitre).toBeCloseTo(24, 9);
  });

  it('a new bath starts with none of it', () => {
    const plan = planned({
      ...a1,
      volumeL: 0,
      massFraction: 0,
      impurity: { gramsPerLitre: 0, targetGramsPerLitre: 25 },
    });
    expect(plan.bathBefore).toMatchObject({ kg: 0, volumeL: 0, massFraction: 0, impurityGramsPerLitre: 0 });
  });
});

describe('half a litre of water into hot 48 % caustic', () => {
  const low = { ...a1, massFraction: 0.4771, volumeL: 192, fullVolumeL: 200, freeboardL: 10 };
  it('was planned for 0.2 % of the level, and is left out', () => {
    const { water, bathAfter, flags } = planned({ ...low, uncertainty: exact });
    expect(water.kg).toBe(0);
    expect(bathAfter.massFraction).toBeCloseTo(0.5, 9);
    expect(bathAfter.volumeL).toBeGreaterThan(199);
    expect(flags).toContain('a little water to the mark is left out: less than 0.5 % of the level');
  });
  it('five litres are poured all the same, and whatever lowers a bath', () => {
    expect(planned({ ...low, volumeL: 187, uncertainty: exact }).water.kg).toBeGreaterThan(3);
    const strong = { ...low, volumeL: 199, massFraction: 0.5006, uncertainty: exact };
    expect(planned(strong).water.kg).toBeGreaterThan(0);
  });
});
