import { describe, expect, it } from 'vitest';
import { planAddition } from '../bath/addition/plan-addition.ts';
import { topUpEvaporation } from '../bath/evaporation-top-up.ts';
import { type StockLot, type StrengthRequest, writtenAddition, writtenTopUp } from './written-plan.ts';

const bath = {
  solute: 'NaOH',
  volumeL: 600,
  fullVolumeL: 600,
  freeboardL: 200,
  temperatureC: 25,
  massFraction: 0.2,
} as const;
const wanted = { ...bath, targetMassFraction: 0.25 };
const request: StrengthRequest = {
  ...wanted,
  targetGramsPerLitre: null,
  referenceTemperatureC: null,
  fillToMark: false,
  impurity: null,
  coldestTemperatureC: null,
  uncertainty: null,
};
const liquor: StockLot = {
  id: 7,
  form: 'liquid',
  assayMassFraction: 0.5,
  impurityMassFraction: 0,
  densityKgPerM3: null,
};

describe('an addition asked for on a form', () => {
  it('is the plan of the same request with what was not said left out', () => {
    const { plan, steps } = writtenAddition({ request, lot: liquor });
    const right = planAddition({
      ...wanted,
      fillToMark: false,
      stock: { form: 'liquid', massFraction: 0.5 },
    });
    expect(plan).toEqual(right);
    expect(steps.map(({ action, chemicalLotId }) => [action, chemicalLotId])).toEqual([
      ['add-stock', 7],
      ['mix-and-cool', null],
      ['analyse', null],
    ]);
    expect(steps[0]?.kg).toBeCloseTo(146.1, 1);
  });

  it('takes every figure that was said', () => {
    const said = {
      targetGramsPerLitre: 320,
      referenceTemperatureC: 20,
      coldestTemperatureC: 15,
      impurity: { gramsPerLitre: 40, targetGramsPerLitre: 30 },
      uncertainty: { massFraction: 0.02, volumeL: 12 },
    };
    const { plan } = writtenAddition({
      request: { ...request, targetMassFraction: null, ...said },
      lot: liquor,
    });
    const stock = { form: 'liquid', massFraction: 0.5 } as const;
    expect(plan).toEqual(planAddition({ ...bath, ...said, fillToMark: false, stock }));
  });

  it('measures a liquid by the density on its label, and weighs a solid whatever its label says', () => {
    const litres = (lot: Partial<StockLot>) =>
      writtenAddition({ request, lot: { ...liquor, ...lot } }).steps[0]?.volumeL;
    expect(litres({ densityKgPerM3: 1500 })).toBeCloseTo(146.1 / 1.5, 0);
    expect(litres({})).toBeCloseTo(96, 0);
    expect(litres({ form: 'solid', densityKgPerM3: 2130 })).toBeNull();
  });

  it('does not take a lot for more than whole: the impurity gives way to the assay', () => {
    const lot = { ...liquor, form: 'solid', assayMassFraction: 0.97, impurityMassFraction: 0.05 } as const;
    const impurity = { gramsPerLitre: 10, targetGramsPerLitre: 10 };
    const { plan } = writtenAddition({ request: { ...request, impurity }, lot });
    const stock = { form: 'solid', massFraction: 0.97, impurityMassFraction: 1 - 0.97 } as const;
    expect(plan).toEqual(planAddition({ ...wanted, fillToMark: false, impurity, stock }));
  });

  it('a plan that is none has no steps', () => {
    const { plan, steps } = writtenAddition({ request, lot: { ...liquor, assayMassFraction: 0.2 } });
    expect(plan).toMatchObject({ possible: false, reason: 'stock-not-stronger' });
    expect(steps).toEqual([]);
  });
});

describe('a top-up asked for on a form', () => {
  const level = { volumeL: 485, fullVolumeL: 500, temperatureC: 60 };

  it('is that of the strength when full', () => {
    const known = { ...level, solute: 'KOH', massFractionWhenFull: 0.5 } as const;
    const { steps, massFractionNow } = writtenTopUp(known);
    const right = topUpEvaporation(known);
    expect(steps.map(({ action, kg, volumeL }) => [action, kg, volumeL])).toEqual([
      ['add-water', right.waterKg, right.waterL],
      ['mix-and-cool', 0, null],
      ['analyse', 0, null],
    ]);
    expect(massFractionNow).toBe(right.massFractionNow);
  });

  it('without a solute or a strength is the missing litres, none when it is full', () => {
    for (const unknown of [
      { solute: null, massFractionWhenFull: 0.5 },
      { solute: 'KOH' as const, massFractionWhenFull: null },
    ]) {
      expect(writtenTopUp({ ...level, ...unknown })).toMatchObject({ massFractionNow: null, flags: [] });
      expect(writtenTopUp({ ...level, ...unknown }).steps[0]).toMatchObject({ kg: 15, volumeL: 15 });
      expect(writtenTopUp({ ...level, volumeL: 510, ...unknown }).steps[0]).toMatchObject({
        kg: 0,
        volumeL: 0,
      });
    }
  });
});
