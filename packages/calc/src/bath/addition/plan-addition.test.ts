import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalcError } from '../../errors.ts';
import { massFractionFrom } from '../concentration.ts';
import { density } from '../density.ts';
import { bleedAndFeed, dumpShareForImpurity } from '../impurity.ts';
import { topUpEvaporation } from '../evaporation-top-up.ts';
import type { Solute } from '../solutes.ts';
import { dissolution } from './dissolution.ts';
import { type AdditionPlan, planAddition } from './plan-addition.ts';
import type { AdditionRequest } from './request.ts';
import { saturation } from './saturation.ts';

function planned(request: AdditionRequest): AdditionPlan {
  const plan = planAddition(request);
  if (!plan.possible) throw new Error(plan.explanation);
  return plan;
}

const flake = { form: 'solid', massFraction: 0.9 } as const;

const a1 = {
  solute: 'KOH',
  volumeL: 400,
  fullVolumeL: 400,
  freeboardL: 30,
  temperatureC: 60,
  massFraction: 0.47,
  targetMassFraction: 0.5,
  stock: flake,
} as const;

const a3 = {
  solute: 'H2SO4',
  volumeL: 1000,
  fullVolumeL: 1000,
  freeboardL: 0,
  temperatureC: 20,
  massFraction: massFractionFrom({ solute: 'H2SO4', gramsPerLitre: 160, temperatureC: 20 }).massFraction,
  targetGramsPerLitre: 180,
  referenceTemperatureC: 20,
  stock: { form: 'liquid', massFraction: 0.96 },
} as const;

const a7 = { ...a1, freeboardL: 0 };

/** Worked examples; each tolerance is half of the last digit that the source prints. */
describe('worked examples of the reference', () => {
  const a1Plan = planned(a1);
  const a2Plan = planned({
    solute: 'NaOH',
    volumeL: 600,
    fullVolumeL: 600,
    freeboardL: 150,
    temperatureC: 25,
    massFraction: 0.2,
    targetMassFraction: 0.25,
    stock: { form: 'liquid', massFraction: 0.5, temperatureC: 25 },
  });
  const a3Plan = planned(a3);
  const a3Free = planned({ ...a3, freeboardL: 20 });
  const a4Plan = planned({ ...a1, massFraction: 0.515 });
  const a5Plan = planned({
    ...a1,
    massFraction: 0.5,
    impurity: { gramsPerLitre: 60, targetGramsPerLitre: 25 },
  });
  const a5Dump = dumpShareForImpurity({ gramsPerLitre: 60, targetGramsPerLitre: 25, volumeL: 400 });
  const a5Bleed = bleedAndFeed({ gramsPerLitre: 60, targetGramsPerLitre: 25, volumeL: 400 });
  const a6 = topUpEvaporation({
    solute: 'KOH',
    fullVolumeL: 500,
    volumeL: 485,
    massFractionWhenFull: 0.5,
    temperatureC: 60,
  });
  const a6Plan = planned({ ...a1, fullVolumeL: 500, volumeL: 485, massFraction: a6.massFractionNow });
  const a7First = planned({ ...a7, volumeL: 380, massFraction: 0.465 });
  const a7FirstBalance = (0.5 * a7First.bathAfter.kg - 0.465 * a7First.bathBefore.kg) / 0.9;
  const a7Second = planned({ ...a7, volumeL: 395 });
  const a8 = dissolution({
    solute: 'KOH',
    stock: flake,
    stockKg: 10,
    bath: { kg: 1000, massFraction: 0.45, temperatureC: 60 },
  });
  const a9 = dissolution({
    solute: 'NaOH',
    stock: { form: 'solid', massFraction: 1 },
    stockKg: 25,
    bath: { kg: 400, massFraction: 0, temperatureC: 20 },
  });

  it.each([
    ['A1: bath, kg', a1Plan.bathBefore.kg, 579.76, 0.006],
    ['A1: flake, kg', a1Plan.stock.kg, 43.5, 0.05],
    ['A1: afterwards, L', a1Plan.bathAfter.volumeL, 419.8, 0.05],
    ['A2: bath, kg', a2Plan.bathBefore.kg, 730.3, 0.05],
    ['A2: liquor, kg', a2Plan.stock.kg, 146.1, 0.05],
    ['A2: liquor, L', a2Plan.stock.volumeL ?? NaN, 96, 0.05],
    ['A3: before, wt%', 100 * a3.massFraction, 14.549, 0.0006],
    ['A3: target, wt%', 100 * a3Plan.bathAfter.massFraction, 16.19, 0.0006],
    ['A3: decanted, kg', a3Plan.decant.kg, 10.32, 0.006],
    ['A3: decanted, L', a3Plan.decant.volumeL ?? NaN, 9.39, 0.006],
    ['A3: acid, kg', a3Plan.stock.kg, 22.4, 0.006],
    ['A3: acid, L', a3Plan.stock.volumeL ?? NaN, 12.2, 0.006],
    ['A3: afterwards, L', a3Plan.bathAfter.volumeL, 1000, 1e-6],
    ['A3 without decanting: acid, kg', a3Free.stock.kg, 22.61, 0.006],
    ['A3 without decanting: acid, L', a3Free.stock.volumeL ?? NaN, 12.32, 0.006],
    ['A3 without decanting: afterwards, L', a3Free.bathAfter.volumeL, 1009.5, 0.05],
    ['A4: water, kg', a4Plan.water.kg, 18.03, 0.006],
    ['A4: afterwards, L', a4Plan.bathAfter.volumeL, 417, 0.5],
    ['A5: share', a5Dump.share, 0.583, 0.0005],
    ['A5: dumped, L', a5Dump.dumpL, 233, 0.5],
    ['A5 as a plan: decanted, L', a5Plan.decant.volumeL ?? NaN, 233, 0.5],
    ['A5 as a plan: left, g/L', a5Plan.bathAfter.impurityGramsPerLitre ?? NaN, 25, 1e-6],
    ['A5: volumes bled', a5Bleed.volumes, 0.875, 0.0005],
    ['A5: bled, L', a5Bleed.feedL, 350, 0.5],
    ['A6: water, kg', a6.waterKg, 15.92, 0.006],
    ['A6: strength now, wt%', 100 * a6.massFractionNow, 51.1, 0.05],
    ['A6 as a plan: water, kg', a6Plan.water.kg, 15.92, 0.006],
    ['A6 as a plan: afterwards, L', a6Plan.bathAfter.volumeL, 500, 1e-6],
    ['A7 from 380 L: bath, kg', a7First.bathBefore.kg, 548.57, 0.006],
    ['A7 from 380 L: mass at the mark, kg', a7First.bathAfter.kg, 593.88, 0.006],
    ['A7 from 380 L: flake if water had room, kg', a7FirstBalance, 46.5, 0.005],
    ['A7 from 380 L: no water', a7First.water.kg, 0, 0],
    ['A7 from 395 L: decanted, kg', a7Second.decant.kg, 20.1, 0.05],
    ['A7 from 395 L: decanted, L', a7Second.decant.volumeL ?? NaN, 13.85, 0.006],
    ['A7 from 395 L: flake, kg', a7Second.stock.kg, 41.4, 0.05],
    ['A8: heat, kJ', a8.kJ ?? NaN, 9241, 0.5],
    // The source takes the heat capacity before, the formula asks for the one after.
    ['A8: rise, K', a8.riseK ?? NaN, 3.4, 0.06],
    ['A9: heat, MJ', (a9.kJ ?? NaN) / 1000, 27.8, 0.05],
    ['A9: rise, K', a9.riseK ?? NaN, 16.8, 0.05],
  ])('%s', (_name, found, right, within) => {
    expect(Math.abs(found - right)).toBeLessThanOrEqual(within);
  });

  it('making 50 wt% from solid and water at once would boil', () => {
    const plan = planned({
      ...a1,
      volumeL: 0,
      massFraction: 0,
      temperatureC: 20,
      stock: { ...flake, massFraction: 1 },
    });
    // About +160 K with the integral heat; the infinite-dilution value used here stays above it.
    expect(plan.temperatureRiseK).toBeGreaterThan(160);
    expect(plan.cautions).toContain('near-boiling');
    expect(plan.steps.map((step) => step.action)).toEqual([
      'add-water',
      'add-stock',
      'mix-and-cool',
      'analyse',
    ]);
    expect(plan.steps[1]?.portions).toBeGreaterThan(30);
  });
});

describe('the seven cases', () => {
  it('raise: with room, only stock', () => {
    const plan = planned({ ...a1, fillToMark: false });
    expect([plan.decant.kg, plan.water.kg]).toEqual([0, 0]);
    expect(plan.flags).toContain('ends above the mark, within the freeboard');
  });

  it('lower: only water, decanted first where there is no room', () => {
    const plan = planned({ ...a7, massFraction: 0.515 });
    expect(plan.stock.kg).toBe(0);
    expect(plan.steps[0]?.action).toBe('decant');
    expect(plan.bathAfter).toMatchObject({
      massFraction: expect.closeTo(0.5, 10),
      volumeL: expect.closeTo(400, 6),
    });
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

describe('refusals and warnings', () => {
  it.each([0.5, 0.45])('a stock of %f is not stronger than the target', (massFraction) => {
    const plan = planAddition({ ...a1, stock: { form: 'liquid', massFraction } });
    expect(plan).toMatchObject({ possible: false, reason: 'stock-not-stronger' });
    expect(plan.possible ? '' : plan.explanation).toContain('not stronger than the target, 50 wt%');
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

  it.each([
    { solute: 'KOH', temperatureC: 0, right: 97 / 197 },
    { solute: 'KOH', temperatureC: 15, right: 107 / 207 },
    { solute: 'KOH', temperatureC: 20, right: 112 / 212 },
    { solute: 'KOH', temperatureC: 5, right: 0.5 },
    { solute: 'NaOH', temperatureC: 14, right: 0.5 },
    { solute: 'NaOH', temperatureC: 20, right: 0.522 },
    { solute: 'NaOH', temperatureC: 80, right: 0.758 },
  ] as const)('$solute is saturated at $temperatureC °C with a share of $right', ({ right, ...given }) => {
    // 50 wt% KOH is said to crystallise "near 5 °C".
    expect(saturation(given).massFraction).toBeCloseTo(right, given.temperatureC === 5 ? 2 : 4);
    expect(saturation(given).flags).toEqual([]);
  });

  it('solubility beyond its curve is flagged, of salts unknown, of acids unlimited', () => {
    expect(saturation({ solute: 'KOH', temperatureC: 60 }).massFraction).toBe(0.5283);
    expect(saturation({ solute: 'KOH', temperatureC: 60 }).flags).toHaveLength(1);
    expect(saturation({ solute: 'KOH', temperatureC: -10 }).massFraction).toBeCloseTo(0.476, 3);
    expect(saturation({ solute: 'Na3PO4', temperatureC: 20 })).toMatchObject({ massFraction: null });
    expect(saturation({ solute: 'Na3PO4', temperatureC: 20 }).flags).toHaveLength(1);
    expect(saturation({ solute: 'H2SO4', temperatureC: 20 })).toEqual({ massFraction: null, flags: [] });
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

describe('heat of mixing', () => {
  it('a liquor has given off part of its heat already: less than the solid, more than nothing', () => {
    const bath = { kg: 700, massFraction: 0.2, temperatureC: 25 };
    const solid = dissolution({
      solute: 'NaOH',
      stock: { form: 'solid', massFraction: 0.5 },
      stockKg: 100,
      bath,
    });
    const liquor = dissolution({
      solute: 'NaOH',
      stock: { form: 'liquid', massFraction: 0.5 },
      stockKg: 100,
      bath,
    });
    expect(liquor.kJ).toBeLessThan(0.6 * (solid.kJ ?? 0));
    // At least what is left from the textbook value at 3 mol of water, 44.51 - 28.87 kJ/mol.
    expect(liquor.kJ).toBeGreaterThan((100_000 * 0.5 * (44.51 - 28.87)) / 39.9971);
  });

  it('is unknown for the salts and nothing for nothing', () => {
    const bath = { kg: 100, massFraction: 0.05, temperatureC: 20 };
    const salt = dissolution({ solute: 'Na3PO4', stock: flake, stockKg: 1, bath });
    expect(salt).toEqual({ kJ: null, riseK: null, flags: ['no heat of solution of Na3PO4 on file'] });
    const empty = { kg: 0, massFraction: 0, temperatureC: 20 };
    expect(dissolution({ solute: 'KOH', stock: flake, stockKg: 0, bath: empty })).toEqual({
      kJ: 0,
      riseK: 0,
      flags: [],
    });
  });
});

/** Strengths that each solute's density covers. */
const strongest: Partial<Record<Solute, number>> = {
  KOH: 0.49,
  NaOH: 0.49,
  H2SO4: 0.7,
  H3PO4: 0.7,
  Na3PO4: 0.08,
  NH4_2SO4: 0.4,
};

const anyRequest = fc
  .record({
    solute: fc.constantFrom(...(Object.keys(strongest) as (keyof typeof strongest)[])),
    volume: fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 1.3, noNaN: true })),
    fullVolumeL: fc.double({ min: 10, max: 5000, noNaN: true }),
    freeboard: fc.double({ min: 0, max: 0.2, noNaN: true }),
    temperatureC: fc.double({ min: 20, max: 75, noNaN: true }),
    now: fc.double({ min: 0, max: 1, noNaN: true }),
    target: fc.double({ min: 0.02, max: 1, noNaN: true }),
    stock: fc.double({ min: 0, max: 1, noNaN: true }),
    form: fc.constantFrom('solid' as const, 'liquid' as const),
    fillToMark: fc.boolean(),
    impurity: fc.option(
      fc.record({
        gramsPerLitre: fc.double({ min: 0, max: 80, noNaN: true }),
        targetGramsPerLitre: fc.double({ min: 5, max: 80, noNaN: true }),
      }),
      { nil: undefined },
    ),
  })
  .map(({ volume, freeboard, now, target, stock, form, impurity, ...rest }): AdditionRequest => {
    const top = strongest[rest.solute] ?? 0;
    const targetMassFraction = target * top;
    return {
      ...rest,
      volumeL: volume * rest.fullVolumeL,
      freeboardL: freeboard * rest.fullVolumeL,
      massFraction: now * top,
      targetMassFraction,
      stock: { form, massFraction: targetMassFraction + (1 - targetMassFraction) * (0.05 + 0.95 * stock) },
      ...(impurity ? { impurity } : {}),
    };
  });

describe('an addition, for any bath', () => {
  it('reaches its target when simulated forward, never overfills, conserves mass', () => {
    fc.assert(
      fc.property(anyRequest, (request) => {
        const plan = planned(request);
        const { solute, temperatureC, stock, fullVolumeL, freeboardL } = request;
        const rho = (massFraction: number): number =>
          density({ solute, massFraction, temperatureC }).kgPerM3 / 1000;
        // Less than a thousandth of a gram in a tonne is not decanted.
        const limitL = (fullVolumeL + freeboardL) * (1 + 1e-8);
        // A bath that stands too high may come down by shrinking as salt goes in; it must never rise.
        const neverAboveL = Math.max(limitL, request.volumeL * (1 + 1e-8));

        let kg = rho(request.massFraction) * request.volumeL;
        let soluteKg = kg * request.massFraction;
        const startKg = kg;
        for (const step of plan.steps) {
          expect(step.kg).toBeGreaterThanOrEqual(0);
          if (step.action === 'decant') {
            soluteKg -= (step.kg * soluteKg) / kg;
            kg -= step.kg;
          } else {
            if (step.action === 'add-stock') soluteKg += step.kg * stock.massFraction;
            kg += step.kg;
          }
          const massFraction = kg > 1e-9 ? soluteKg / kg : 0;
          expect(kg / rho(massFraction)).toBeLessThanOrEqual(neverAboveL);
        }
        expect(plan.bathAfter.volumeL).toBeLessThanOrEqual(limitL);
        const { decant, water, stock: added, bathAfter } = plan;
        expect(startKg - decant.kg + water.kg + added.kg).toBeCloseTo(kg, 6);
        expect(bathAfter.kg).toBeCloseTo(kg, 6);
        if (kg > 1e-6) expect(soluteKg / kg).toBeCloseTo(request.targetMassFraction ?? NaN, 6);
        if (request.fillToMark) expect(bathAfter.volumeL).toBeGreaterThan(fullVolumeL * (1 - 1e-9));
        const { impurity } = request;
        if (impurity) {
          const allowed = Math.max(impurity.targetGramsPerLitre, 0) * (1 + 1e-6);
          expect(bathAfter.impurityGramsPerLitre).toBeLessThanOrEqual(allowed);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('decants no more than it must: with a litre less decanted the level would not hold', () => {
    fc.assert(
      fc.property(anyRequest, ({ impurity: _impurity, ...request }) => {
        const plan = planned(request);
        fc.pre(plan.decant.kg > 0);
        expect(plan.bathAfter.volumeL).toBeCloseTo(request.fullVolumeL + request.freeboardL, 5);
        // Either stock or water fills the room, never both.
        expect(Math.min(plan.stock.kg, plan.water.kg)).toBeLessThan(1e-6 * plan.bathAfter.kg);
      }),
    );
  });
});
