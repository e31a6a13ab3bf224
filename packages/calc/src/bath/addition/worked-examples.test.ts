import { describe, expect, it } from 'vitest';
import * as source from '../../../reference/bath/printed-additions.ts';
import {
  a1,
  a2,
  a3,
  a3Free,
  a4,
  a5,
  a6,
  a7From380,
  a7From395,
  a8,
  a9,
  madeUpAtOnce,
  planned,
} from '../../../reference/bath/requests.ts';
import { workedExamples } from '../../../reference/worked-examples.ts';
import { heatCapacity } from '../../heat/heat-capacity.ts';
import { topUpEvaporation } from '../evaporation-top-up.ts';
import { bleedAndFeed, dumpShareForImpurity } from '../impurity.ts';
import { dissolution } from './dissolution.ts';

/** Worked examples; each tolerance is half of the last digit that the source prints. */
describe('worked examples', () => {
  const a1Plan = () => planned(a1);
  const a2Plan = () => planned(a2);
  const a3Plan = () => planned(a3);
  const a3FreePlan = () => planned(a3Free);
  const a4Plan = () => planned(a4);
  const a5Plan = () => planned(a5);
  const { volumeL } = a5;
  const a5Dump = () => dumpShareForImpurity({ ...a5.impurity, volumeL });
  const a5Bleed = () => bleedAndFeed({ ...a5.impurity, volumeL });
  const a6Found = () => topUpEvaporation(a6);
  const a6Plan = () => planned({ ...a1, ...a6, massFraction: a6Found().massFractionNow });
  const a7First = () => planned(a7From380);
  const a7FirstBalance = () => (0.5 * a7First().bathAfter.kg - 0.465 * a7First().bathBefore.kg) / 0.9;
  const a7Second = () => planned(a7From395);
  const a8Found = () => dissolution(a8);
  const a8Before = () => heatCapacity({ ...a8.bath, solute: a8.solute });
  const a8RiseBefore = () =>
    (1000 * (a8Found().kJ ?? NaN)) / ((a8.bath.kg + a8.stockKg) * a8Before().jPerKgK);
  const gram = { ...a8, stockKg: 0.001, bath: { ...a8.bath, massFraction: 0.5 } };
  const lastIncrement = () => ((dissolution(gram).expectedKJ ?? NaN) / (gram.stockKg * 0.9)) * 0.0561056;
  const a9Found = () => dissolution(a9);
  const solid = { form: 'solid', massFraction: 1 } as const;
  const water = { kg: 500, massFraction: 0, temperatureC: 20 };
  const atOnce = () => dissolution({ solute: 'KOH', stock: solid, stockKg: 500, bath: water });

  it.each(
    workedExamples([
      ['A1: bath, kg', () => a1Plan().bathBefore.kg, ...source.a1Printed.bathKg],
      ['A1: flake, kg', () => a1Plan().stock.kg, ...source.a1Printed.stockKg],
      ['A1: afterwards, L', () => a1Plan().bathAfter.volumeL, ...source.a1Printed.afterL],
      ['A2: bath, kg', () => a2Plan().bathBefore.kg, ...source.a2Printed.bathKg],
      ['A2: liquor, kg', () => a2Plan().stock.kg, ...source.a2Printed.stockKg],
      ['A2: liquor, L', () => a2Plan().stock.volumeL ?? NaN, ...source.a2Printed.stockL],
      ['A3: before, wt%', () => 100 * a3.massFraction, ...source.a3Printed.beforePercent],
      ['A3: target, wt%', () => 100 * a3Plan().bathAfter.massFraction, ...source.a3Printed.targetPercent],
      ['A3: decanted, kg', () => a3Plan().decant.kg, ...source.a3Printed.decantKg],
      ['A3: decanted, L', () => a3Plan().decant.volumeL ?? NaN, ...source.a3Printed.decantL],
      ['A3: acid, kg', () => a3Plan().stock.kg, ...source.a3Printed.stockKg],
      ['A3: acid, L', () => a3Plan().stock.volumeL ?? NaN, ...source.a3Printed.stockL],
      ['A3: afterwards, L', () => a3Plan().bathAfter.volumeL, 1000, 1e-6],
      ['A3 without decanting: acid, kg', () => a3FreePlan().stock.kg, ...source.a3FreePrinted.stockKg],
      [
        'A3 without decanting: acid, L',
        () => a3FreePlan().stock.volumeL ?? NaN,
        ...source.a3FreePrinted.stockL,
      ],
      [
        'A3 without decanting: afterwards, L',
        () => a3FreePlan().bathAfter.volumeL,
        ...source.a3FreePrinted.afterL,
      ],
      ['A4: water, kg', () => a4Plan().water.kg, ...source.a4Printed.waterKg],
      ['A4: afterwards, L', () => a4Plan().bathAfter.volumeL, ...source.a4Printed.afterL],
      ['A5: share', () => a5Dump().share, ...source.a5Printed.share],
      ['A5: dumped, L', () => a5Dump().dumpL, ...source.a5Printed.decantL],
      ['A5 as a plan: decanted, L', () => a5Plan().decant.volumeL ?? NaN, ...source.a5Printed.decantL],
      ['A5 as a plan: left, g/L', () => a5Plan().bathAfter.impurityGramsPerLitre ?? NaN, 25, 1e-6],
      ['A5: volumes bled', () => a5Bleed().volumes, ...source.a5Printed.volumesBled],
      ['A5: bled, L', () => a5Bleed().feedL, ...source.a5Printed.bledL],
      ['A6: water, kg', () => a6Found().waterKg, ...source.a6Printed.waterKg],
      ['A6: strength now, wt%', () => 100 * a6Found().massFractionNow, ...source.a6Printed.nowPercent],
      ['A6 as a plan: water, kg', () => a6Plan().water.kg, ...source.a6Printed.waterKg],
      ['A6 as a plan: afterwards, L', () => a6Plan().bathAfter.volumeL, 500, 1e-6],
      ['A7 from 380 L: bath, kg', () => a7First().bathBefore.kg, ...source.a7From380Printed.bathKg],
      [
        'A7 from 380 L: mass at the mark, kg',
        () => a7First().bathAfter.kg,
        ...source.a7From380Printed.markKg,
      ],
      [
        'A7 from 380 L: flake if water had room, kg',
        () => a7FirstBalance(),
        ...source.a7From380Printed.balanceKg,
      ],
      ['A7 from 380 L: no water', () => a7First().water.kg, 0, 0],
      ['A7 from 395 L: decanted, kg', () => a7Second().decant.kg, ...source.a7From395Printed.decantKg],
      [
        'A7 from 395 L: decanted, L',
        () => a7Second().decant.volumeL ?? NaN,
        ...source.a7From395Printed.decantL,
      ],
      ['A7 from 395 L: flake, kg', () => a7Second().stock.kg, ...source.a7From395Printed.stockKg],
      ['A8: heat, kJ', () => a8Found().kJ ?? NaN, ...source.a8Printed.kJ],
      ['A8: heat capacity before, J/(kg K)', () => a8Before().jPerKgK, ...source.a8Printed.jPerKgKBefore],
      ['A8: rise with it, K', a8RiseBefore, ...source.a8Printed.riseK],
      ['A8: rise, K', () => a8Found().riseK ?? NaN, ...source.a8Printed.riseKAfter],
      ['A8: expected rise, K', () => a8Found().expectedRiseK ?? NaN, ...source.a8Printed.expectedRiseK],
      ['last increment into 50 wt%, kJ/mol', lastIncrement, ...source.lastIncrementPrinted],
      ['A9: heat, MJ', () => (a9Found().kJ ?? NaN) / 1000, ...source.a9Printed.mJ],
      ['A9: rise, K', () => a9Found().riseK ?? NaN, ...source.a9Printed.riseK],
      [
        'made up at once: heat, MJ',
        () => (atOnce().expectedKJ ?? NaN) / 1000,
        ...source.madeUpAtOncePrinted.mJ,
      ],
      ['made up at once: rise, K', () => atOnce().expectedRiseK ?? NaN, ...source.madeUpAtOncePrinted.riseK],
    ]),
  )('$name', ({ found, right, within }) => {
    expect(Math.abs(found() - right)).toBeLessThanOrEqual(within);
  });

  it('making 50 wt% from solid and water at once would boil', () => {
    const plan = planned(madeUpAtOnce);
    const [right, within] = source.madeUpAtOncePrinted.riseK;
    expect(Math.abs((plan.expectedRiseK ?? NaN) - right)).toBeLessThanOrEqual(within);
    // Warnings go by the heat of infinite dilution, which stays above it.
    expect(plan.temperatureRiseK).toBeGreaterThan(right + within);
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
