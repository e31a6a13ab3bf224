import { describe, expect, it } from 'vitest';
import { pipetted, t1, t4, t5, t6 } from '../../../reference/bath/readings.ts';
import { workedExamples } from '../../../reference/worked-examples.ts';
import { gramsPerLitreFrom } from '../concentration.ts';
import { molarMass } from '../data/molar-masses.ts';
import { mixtureDensity } from '../density.ts';
import { titrateCausticBariumChloride, titrateCausticTwoEndPoints } from './caustic.ts';
import { concentrationFromHydrometer } from './hydrometer.ts';
import { titratePhosphate, titratePhosphoricAcid } from './phosphate.ts';
import { titrateSulfuricAluminium } from './sulfuric.ts';

/** Worked examples; each tolerance is half of the last digit that the source prints. */
describe('worked examples', () => {
  const t1Found = titrateCausticTwoEndPoints(t1);
  const t2Found = titrateCausticBariumChloride({
    solute: 'KOH',
    titrantEqPerLitre: 0.5,
    totalMl: 27.35,
    hydroxideMl: 26.6,
    sample: { massG: 1.5, temperatureC: 20 },
  });
  const t3Found = titrateSulfuricAluminium({
    method: 'two-end-points',
    titrantEqPerLitre: 1,
    acidMl: 18.4,
    totalMl: 22.4,
    sample: pipetted(5),
  });
  const t4Found = titrateSulfuricAluminium(t4);
  const t5Found = titratePhosphate(t5);
  const t5Acidified = titratePhosphate({ ...t5, firstEndPointMl: 25, secondEndPointMl: 55 });
  const acid = titratePhosphoricAcid({
    titrantEqPerLitre: 0.5,
    firstEndPointMl: 8.2,
    secondEndPointMl: 16.4,
    secondReading: 'from-zero',
    sample: pipetted(2),
  });
  const t6Found = concentrationFromHydrometer(t6);

  it.each(
    workedExamples([
      ['T1: KOH, mol/L', t1Found.hydroxide.molPerLitre, 13.25, 1e-9],
      ['T1: KOH, g/L', t1Found.hydroxide.gramsPerLitre, 743.4, 0.05],
      ['T1: K2CO3, mol/L', t1Found.carbonate.molPerLitre, 0.35, 1e-9],
      ['T1: K2CO3, g/L', t1Found.carbonate.gramsPerLitre, 48.4, 0.05],
      ['T1: total alkali as KOH, mol/L', t1Found.totalAlkaliAsHydroxide.molPerLitre, 13.95, 1e-9],
      ['T1: total alkali as KOH, g/L', t1Found.totalAlkaliAsHydroxide.gramsPerLitre, 782.7, 0.05],
      ['T1: u(KOH), g/L', t1Found.hydroxide.standardUncertainty.gramsPerLitre, 5.9, 0.05],
      ['T1: u(K2CO3), g/L', t1Found.carbonate.standardUncertainty.gramsPerLitre, 5.9, 0.05],
      ['T1: mixture density, kg/m3', t1Found.densityKgPerM3, 1534, 0.5],
      ['T1: KOH, wt%', 100 * t1Found.hydroxide.massFraction, 48.4, 0.05],
      ['T1: K2CO3, wt%', 100 * t1Found.carbonate.massFraction, 3.15, 0.005],
      ['T2: KOH, wt%', 100 * t2Found.hydroxide.massFraction, 49.75, 0.005],
      ['T2: K2CO3, wt%', 100 * t2Found.carbonate.massFraction, 1.73, 0.005],
      ['T2: total alkali as KOH, wt%', 100 * t2Found.totalAlkaliAsHydroxide.massFraction, 51.15, 0.005],
      ['T3: free acid, g/L', t3Found.freeAcid.gramsPerLitre, 180.5, 0.05],
      ['T3: aluminium, g/L', t3Found.aluminium.gramsPerLitre, 7.2, 0.005],
      ['T4: free acid, g/L', t4Found.freeAcid.gramsPerLitre, 182.8, 0.05],
      ['T4: aluminium, g/L', t4Found.aluminium.gramsPerLitre, 7.32, 0.005],
      ['T4: total sulfate as H2SO4, g/L', t4Found.totalSulfateAsAcid.gramsPerLitre, 222.8, 0.05],
      ['T4: u(acid), g/L', t4Found.freeAcid.standardUncertainty.gramsPerLitre, 0.6, 0.05],
      ['T4: u(Al), g/L', t4Found.aluminium.standardUncertainty.gramsPerLitre, 0.07, 0.005],
      ['T5: phosphorus, mol/L', t5Found.totalAsNa3PO4.molPerLitre, 0.291, 1e-9],
      ['T5: as Na3PO4, g/L', t5Found.totalAsNa3PO4.gramsPerLitre, 47.7, 0.05],
      ['T5: as the dodecahydrate, g/L', t5Found.dodecahydrateGramsPerLitre, 110.6, 0.05],
      ['T5: free NaOH, mol/L', t5Found.freeHydroxide.molPerLitre, 0.023, 1e-9],
      ['T5: free NaOH, g/L', t5Found.freeHydroxide.gramsPerLitre, 0.92, 0.005],
      ['T5 acidified: PO4, mol/L', t5Acidified.trisodiumPhosphate.molPerLitre, 0.25, 1e-9],
      ['T5 acidified: Na3PO4, g/L', t5Acidified.trisodiumPhosphate.gramsPerLitre, 41, 0.05],
      ['T5 acidified: HPO4, mol/L', t5Acidified.hydrogenPhosphate.molPerLitre, 0.05, 1e-9],
      ['T5 acidified: no free NaOH', t5Acidified.freeHydroxide.molPerLitre, 0, 0],
      ['phosphoric acid, g/L', acid.phosphoricAcid.gramsPerLitre, 200.9, 0.05],
      ['T6: density, g/mL', t6Found.densityKgPerM3 / 1000, 1.47726, 0.000005],
      ['T6: KOH, wt%', 100 * t6Found.component.massFraction, 48.1, 0.05],
      ['T6: KOH at 40 °C, g/L', t6Found.component.gramsPerLitre, 710.4, 0.05],
      [
        'T6: KOH once at 20 °C, g/L',
        gramsPerLitreFrom({ solute: 'KOH', massFraction: t6Found.component.massFraction, temperatureC: 20 })
          .gramsPerLitre,
        716.4,
        0.05,
      ],
      ['T6: u(w), wt%', 100 * t6Found.component.standardUncertainty.massFraction, 0.1, 0.005],
    ]),
  )('$name', ({ found, right, within }) => {
    expect(Math.abs(found - right)).toBeLessThanOrEqual(within);
  });

  it('T1: relative uncertainties 0.79 % and 12 %', () => {
    const relative = ({ molPerLitre, standardUncertainty }: typeof t1Found.hydroxide): number =>
      standardUncertainty.molPerLitre / molPerLitre;
    expect(relative(t1Found.hydroxide)).toBeCloseTo(0.0079, 4);
    expect(relative(t1Found.carbonate)).toBeCloseTo(0.12, 2);
  });

  it('T7: 180 g/L of acid with 10 g/L of aluminium weighs 1168.8 kg/m3, and a float for acid reads 277 g/L', () => {
    const aluminiumSulfate = 10 * (molarMass.Al2_SO4_3 / (2 * molarMass.Al));
    expect(aluminiumSulfate).toBeCloseTo(63.4, 1);
    const kgPerM3 = 1168.8;
    const parts = [
      { solute: 'H2SO4', massFraction: 180 / kgPerM3 },
      { solute: 'Al2_SO4_3', massFraction: aluminiumSulfate / kgPerM3 },
    ] as const;
    expect(mixtureDensity({ parts, temperatureC: 20 }).kgPerM3).toBeCloseTo(kgPerM3, 0);

    const float = {
      solute: 'H2SO4',
      scale: 'g/mL',
      reading: kgPerM3 / 1000,
      sampleTemperatureC: 20,
    } as const;
    const naive = concentrationFromHydrometer({ ...float, dissolved: [] });
    expect(Math.abs(naive.component.gramsPerLitre - 277)).toBeLessThan(0.5);
    const told = concentrationFromHydrometer({
      ...float,
      dissolved: [{ solute: 'Al2_SO4_3', gramsPerLitre: aluminiumSulfate }],
    });
    expect(told.component.gramsPerLitre).toBeCloseTo(180, 0);
  });

  it('published factors: 49.04 and 8.994 g per equivalent of base, 5.453 g of acid per g of aluminium', () => {
    const one = titrateSulfuricAluminium({ ...t4, titrantEqPerLitre: 1, acidMl: 10, totalMl: 20 });
    expect(one.freeAcid.gramsPerLitre).toBeCloseTo(49.04, 2);
    expect(one.aluminium.gramsPerLitre).toBeCloseTo(8.994, 3);
    const bound = one.totalSulfateAsAcid.gramsPerLitre - one.freeAcid.gramsPerLitre;
    expect(bound / one.aluminium.gramsPerLitre).toBeCloseTo(5.453, 2);
  });

  it('FAO JECFA assay of KOH: 1 mL of 1 N acid is 56.11 mg of total alkali; between the end points, 138.2 mg K2CO3', () => {
    const found = titrateCausticTwoEndPoints({
      ...t1,
      titrantEqPerLitre: 1,
      firstEndPointMl: 9,
      secondEndPointMl: 10,
      sample: pipetted(1000),
    });
    // In g/L of one litre: mg per mL of acid times mL.
    expect(1000 * found.totalAlkaliAsHydroxide.gramsPerLitre).toBeCloseTo(10 * 56.11, 1);
    expect(1000 * found.carbonate.gramsPerLitre).toBeCloseTo(138.2, 1);
  });
});
