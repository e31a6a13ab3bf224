import { describe, expect, it } from 'vitest';
import { a1, a3, flake, planned } from '../../../reference/bath/requests.ts';
import { CalcError } from '../../errors.ts';
import { planAddition } from './plan-addition.ts';
import type { AdditionRequest } from './request.ts';

describe('the seven cases', () => {
  it('raise: with room, only stock', () => {
    const plan = planned({ ...a1, fillToMark: false });
    expect([plan.decant.kg, plan.water.kg]).toEqual([0, 0]);
    expect(plan.flags).toContain('ends above the mark, within the freeboard');
  });

  it('lower: only water, decanted first where there is no room', () => {
    const plan = planned({ ...a1, freeboardL: 0, massFraction: 0.515 });
    expect(plan.stock.kg).toBe(0);
    expect(plan.steps[0]?.action).toBe('decant');
    expect(plan.bathAfter.massFraction).toBeCloseTo(0.5, 10);
    expect(plan.bathAfter.volumeL).toBeCloseTo(400, 6);
  });

  it('fill: water and stock to the mark at the target', () => {
    const plan = planned({ ...a1, volumeL: 300, massFraction: 0.49 });
    expect(plan.decant.kg).toBe(0);
    expect(plan.steps.slice(0, 2).map((step) => step.action)).toEqual(['add-water', 'add-stock']);
    expect(plan.bathAfter.volumeL).toBeCloseTo(400, 6);
  });

  it('a bath in order needs nothing', () => {
    const plan = planned({ ...a1, massFraction: 0.5 });
    expect(plan.steps).toEqual([]);
    expect(plan.cautions).toEqual([]);
    expect(plan.bathAfter).toEqual(plan.bathBefore);
  });

  it('a bath above the highest level is decanted down to it', () => {
    const plan = planned({ ...a1, volumeL: 450, massFraction: 0.5 });
    expect(plan.decant.volumeL).toBeCloseTo(20, 6);
    expect([plan.water.kg, plan.stock.kg]).toEqual([0, 0]);
  });

  it('impurity: what the stock brings in is dumped too, and too much of it is refused', () => {
    const carbonated = {
      ...a1,
      massFraction: 0.5,
      impurity: { gramsPerLitre: 60, targetGramsPerLitre: 25 },
      stock: { ...flake, impurityMassFraction: 0.02 },
    };
    const plan = planned(carbonated);
    expect(plan.decant.volumeL).toBeGreaterThan(234);
    expect(plan.bathAfter.impurityGramsPerLitre).toBeCloseTo(25, 6);
    const hopeless = planAddition({ ...carbonated, stock: { ...flake, impurityMassFraction: 0.04 } });
    expect(hopeless).toMatchObject({ possible: false, reason: 'stock-too-impure' });
  });

  it('impurity within its limit costs nothing', () => {
    const plan = planned({
      ...a1,
      massFraction: 0.5,
      impurity: { gramsPerLitre: 20, targetGramsPerLitre: 25 },
    });
    expect(plan.decant.kg).toBe(0);
  });

  it('target in g/L counts at its own temperature', () => {
    const plan = planned({
      ...a1,
      targetMassFraction: undefined,
      targetGramsPerLitre: 756.15,
      referenceTemperatureC: 20,
    } as unknown as AdditionRequest);
    expect(plan.bathAfter.massFraction).toBeCloseTo(0.5, 4);
    expect(plan.bathAfter.gramsPerLitre).toBeCloseTo(742.4, 0);
  });
});

describe('the order of the steps', () => {
  /** 2 wt% of sodium hydroxide takes up less room than the water it displaces. */
  const shrinking = {
    ...a1,
    solute: 'NaOH',
    volumeL: 0,
    fullVolumeL: 400,
    freeboardL: 0,
    massFraction: 0,
    targetMassFraction: 0.02,
    temperatureC: 20,
    uncertainty: { massFraction: 0, volumeL: 0 },
  } as const;

  it('flake goes into water, never into an empty tank, though the full water would not fit', () => {
    const plan = planned({ ...shrinking, stock: { form: 'solid', massFraction: 1 } });
    const [water, stock, rest] = plan.steps;
    expect(plan.steps.map(({ action }) => action)).toEqual([
      'add-water',
      'add-stock',
      'add-water',
      'mix-and-cool',
      'analyse',
    ]);
    expect(water?.bathAfter.volumeL).toBeCloseTo(400, 6);
    expect(stock?.bathAfter.volumeL).toBeLessThan(400);
    expect((water?.kg ?? 0) + (rest?.kg ?? 0)).toBeCloseTo(plan.water.kg, 9);
  });

  it('all the water at once where it fits', () => {
    const plan = planned({ ...shrinking, freeboardL: 10, stock: { form: 'solid', massFraction: 1 } });
    expect(plan.steps.map(({ action }) => action)).toEqual([
      'add-water',
      'add-stock',
      'mix-and-cool',
      'analyse',
    ]);
  });
});

describe('refusals and warnings', () => {
  it.each([0.5, 0.45])('a stock of %f is not stronger than the target', (massFraction) => {
    const plan = planAddition({ ...a1, stock: { form: 'liquid', massFraction } });
    expect(plan).toMatchObject({ possible: false, reason: 'stock-not-stronger' });
    expect(plan.possible ? '' : plan.explanation).toContain('not stronger than the target, 50 wt%');
  });

  it.each([0.5, 0.48, 0.47, 0.4])('nor is one of %f when the level is left alone', (massFraction) => {
    const plan = planAddition({ ...a1, fillToMark: false, stock: { form: 'liquid', massFraction } });
    expect(plan).toMatchObject({ possible: false, reason: 'stock-not-stronger' });
  });

  it('a weak stock does not fill a bath that is at its strength', () => {
    const weak = {
      ...a1,
      volumeL: 300,
      massFraction: 0.5,
      stock: { form: 'liquid', massFraction: 0.45 },
    } as const;
    expect(planAddition(weak)).toMatchObject({ possible: false, reason: 'stock-not-stronger' });
    expect(planned({ ...weak, fillToMark: false }).steps).toEqual([]);
  });

  it('a weak stock is no matter where only water is wanted', () => {
    expect(
      planAddition({ ...a1, massFraction: 0.515, stock: { form: 'liquid', massFraction: 0.45 } }).possible,
    ).toBe(true);
  });

  it('saturation counts at the coldest temperature', () => {
    expect(planAddition({ ...a1, coldestTemperatureC: 0 })).toMatchObject({
      possible: false,
      reason: 'would-crystallise',
    });
    expect(planAddition({ ...a1, coldestTemperatureC: 10 }).possible).toBe(true);
    // A tank left to itself is taken to cool to 20 °C.
    expect(planAddition({ ...a1, targetMassFraction: 0.53 })).toMatchObject({ reason: 'would-crystallise' });
  });

  it('cautions fit the liquid', () => {
    expect(planned(a1).cautions).toEqual([
      'current-off',
      'protect-yourself',
      'caustic-into-water',
      'caustic-and-metals',
      'heat-rise',
    ]);
    expect(planned(a3).cautions).toContain('acid-into-water');
    expect(planned({ ...a1, massFraction: 0.515 }).cautions).toContain('water-into-strong');
    const hot = { ...a1, temperatureC: 125, fillToMark: false };
    expect(planned(hot).cautions).toContain('near-boiling');
  });

  it.each([
    ['targetMassFraction', { targetMassFraction: 0 }],
    ['targetMassFraction', { targetGramsPerLitre: 700, referenceTemperatureC: 20 }],
    ['referenceTemperatureC', { targetMassFraction: undefined, targetGramsPerLitre: 700 }],
    ['volumeL', { volumeL: -1 }],
    ['volumeL', { volumeL: NaN }],
    ['fullVolumeL', { fullVolumeL: 0 }],
    ['freeboardL', { freeboardL: -5 }],
    ['stock.massFraction', { stock: { ...flake, massFraction: 1.2 } }],
    ['stock.impurityMassFraction', { stock: { ...flake, impurityMassFraction: 0.2 } }],
    ['impurity.targetGramsPerLitre', { impurity: { gramsPerLitre: 10, targetGramsPerLitre: 0 } }],
    ['uncertainty.massFraction', { uncertainty: { massFraction: -1 } }],
  ])('refuses a bad %s by name', (argument, change) => {
    const request = { ...a1, ...change } as unknown as AdditionRequest;
    expect(() => planAddition(request)).toThrow(CalcError);
    expect(() => planAddition(request)).toThrow(`${argument} is`);
  });
});

describe('uncertainty', () => {
  it('u(x)/x = sqrt(u_w^2/(w* - w)^2 + (u_m/m)^2): 30 % for raising by 1 wt% with 0.3 wt%', () => {
    const uncertainty = { massFraction: 0.003, volumeL: 4 };
    const plan = planned({ ...a1, massFraction: 0.49, fillToMark: false, uncertainty });
    // The density's own slope with strength adds 0.8 % of it.
    expect(plan.stock.standardUncertaintyKg / plan.stock.kg).toBeCloseTo(Math.hypot(0.3, 0.01), 2);
    expect(plan.uncertain).toBe(true);
    const certain = planned({ ...a1, fillToMark: false, uncertainty });
    expect(certain.stock.standardUncertaintyKg / certain.stock.kg).toBeCloseTo(Math.hypot(0.1, 0.01), 2);
    expect(certain.uncertain).toBe(false);
  });

  it('an uncertain correction is given in two goes with an analysis between', () => {
    const plan = planned({ ...a1, massFraction: 0.49 });
    expect(plan.steps.map(({ action, heldBack }) => `${action}${heldBack ? ' (held back)' : ''}`)).toEqual([
      'add-stock',
      'mix-and-cool',
      'analyse',
      'add-stock (held back)',
      'mix-and-cool (held back)',
      'analyse (held back)',
    ]);
    expect(plan.steps[0]?.kg).toBeCloseTo(0.75 * plan.stock.kg, 9);
    expect(plan.flags.join()).toContain('analyse again');
  });

  it('a plan that hangs on nothing uncertain has no uncertainty', () => {
    const exact = { massFraction: 0, volumeL: 0 };
    const plan = planned({ ...a1, uncertainty: exact });
    expect(plan.stock.standardUncertaintyKg).toBe(0);
  });
});

describe('a bath that holds carbonate too', () => {
  const request = {
    solute: 'KOH',
    volumeL: 192,
    fullVolumeL: 200,
    freeboardL: 10,
    temperatureC: 60,
    massFraction: 0.4771,
    targetMassFraction: 0.5,
    stock: { form: 'solid', massFraction: 0.9 },
  } as const;
  const planned = (densityRatio?: number) => {
    const plan = planAddition({ ...request, ...(densityRatio === undefined ? {} : { densityRatio }) });
    if (!plan.possible) throw new Error(plan.explanation);
    return plan;
  };

  it('was weighed as potassium hydroxide and water alone', () => {
    const [pure, heavy] = [planned(), planned(1.03)];
    expect(heavy.bathBefore.kg).toBeCloseTo(1.03 * pure.bathBefore.kg, 9);
    expect(heavy.bathBefore.volumeL).toBeCloseTo(192, 9);
    // Every kilogram of it takes as much flake as before: the amounts grow with the mass.
    expect(heavy.stock.kg).toBeCloseTo(1.03 * pure.stock.kg, 9);
    expect(heavy.bathAfter.massFraction).toBeCloseTo(0.5, 9);
    expect(heavy.flags).toContain('the bath is weighed by its sample, 3 % heavier than KOH and water alone');
    expect(pure.flags.join()).not.toContain('weighed by its sample');
  });

  it('stays what it was where nothing is said, and refuses a sample of another liquid', () => {
    expect(planned(1)).toEqual(planned());
    for (const densityRatio of [0.79, 1.31, Number.NaN]) {
      expect(() => planned(densityRatio)).toThrow(/densityRatio/);
    }
  });
});
