import { describe, expect, it } from 'vitest';
import { a1, a3, flake, planned } from '../../../reference/bath/requests.ts';
import { workedExamples } from '../../../reference/worked-examples.ts';
import { topUpEvaporation } from '../evaporation-top-up.ts';
import { bleedAndFeed, dumpShareForImpurity } from '../impurity.ts';
import { dissolution } from './dissolution.ts';

const a7 = { ...a1, freeboardL: 0 };

/** Worked examples; each tolerance is half of the last digit that the source prints. */
describe('worked examples', () => {
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

  it.each(
    workedExamples([
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
    ]),
  )('$name', ({ found, right, within }) => {
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
