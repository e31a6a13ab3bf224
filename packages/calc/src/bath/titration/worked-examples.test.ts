import { describe, expect, it } from 'vitest';
import * as source from '../../../reference/bath/printed-titrations.ts';
import {
  assay,
  phosphoric,
  pipetted,
  t1,
  t2,
  t3,
  t4,
  t5,
  t5Acidified,
  t6,
  t7,
} from '../../../reference/bath/readings.ts';
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
  const t1Found = () => titrateCausticTwoEndPoints(t1);
  const t2Found = () => titrateCausticBariumChloride(t2);
  const t3Found = () => titrateSulfuricAluminium(t3);
  const t4Found = () => titrateSulfuricAluminium(t4);
  const t5Found = () => titratePhosphate(t5);
  const t5AcidifiedFound = () => titratePhosphate(t5Acidified);
  const acid = () => titratePhosphoricAcid(phosphoric);
  const t6Found = () => concentrationFromHydrometer(t6);

  it.each(
    workedExamples([
      ['T1: KOH, mol/L', () => t1Found().hydroxide.molPerLitre, ...source.t1Printed.KOH.molPerLitre],
      ['T1: KOH, g/L', () => t1Found().hydroxide.gramsPerLitre, ...source.t1Printed.KOH.gramsPerLitre],
      ['T1: K2CO3, mol/L', () => t1Found().carbonate.molPerLitre, ...source.t1Printed.K2CO3.molPerLitre],
      ['T1: K2CO3, g/L', () => t1Found().carbonate.gramsPerLitre, ...source.t1Printed.K2CO3.gramsPerLitre],
      [
        'T1: total alkali as KOH, mol/L',
        () => t1Found().totalAlkaliAsHydroxide.molPerLitre,
        ...source.t1Printed.totalAlkali.molPerLitre,
      ],
      [
        'T1: total alkali as KOH, g/L',
        () => t1Found().totalAlkaliAsHydroxide.gramsPerLitre,
        ...source.t1Printed.totalAlkali.gramsPerLitre,
      ],
      [
        'T1: u(KOH), g/L',
        () => t1Found().hydroxide.standardUncertainty.gramsPerLitre,
        ...source.t1Printed.KOH.uGramsPerLitre,
      ],
      [
        'T1: u(K2CO3), g/L',
        () => t1Found().carbonate.standardUncertainty.gramsPerLitre,
        ...source.t1Printed.K2CO3.uGramsPerLitre,
      ],
      ['T1: mixture density, kg/m3', () => t1Found().densityKgPerM3, ...source.t1KgPerM3],
      ['T1: KOH, wt%', () => 100 * t1Found().hydroxide.massFraction, ...source.t1Printed.KOH.massPercent],
      ['T1: K2CO3, wt%', () => 100 * t1Found().carbonate.massFraction, ...source.t1Printed.K2CO3.massPercent],
      ['T2: KOH, wt%', () => 100 * t2Found().hydroxide.massFraction, ...source.t2Printed.KOH.massPercent],
      ['T2: K2CO3, wt%', () => 100 * t2Found().carbonate.massFraction, ...source.t2Printed.K2CO3.massPercent],
      [
        'T2: total alkali as KOH, wt%',
        () => 100 * t2Found().totalAlkaliAsHydroxide.massFraction,
        ...source.t2Printed.totalAlkali.massPercent,
      ],
      ['T3: free acid, g/L', () => t3Found().freeAcid.gramsPerLitre, ...source.t3Printed.H2SO4.gramsPerLitre],
      ['T3: aluminium, g/L', () => t3Found().aluminium.gramsPerLitre, ...source.t3Printed.Al.gramsPerLitre],
      ['T4: free acid, g/L', () => t4Found().freeAcid.gramsPerLitre, ...source.t4Printed.H2SO4.gramsPerLitre],
      ['T4: aluminium, g/L', () => t4Found().aluminium.gramsPerLitre, ...source.t4Printed.Al.gramsPerLitre],
      [
        'T4: total sulfate as H2SO4, g/L',
        () => t4Found().totalSulfateAsAcid.gramsPerLitre,
        ...source.t4Printed.totalSulfate.gramsPerLitre,
      ],
      [
        'T4: u(acid), g/L',
        () => t4Found().freeAcid.standardUncertainty.gramsPerLitre,
        ...source.t4Printed.H2SO4.uGramsPerLitre,
      ],
      [
        'T4: u(Al), g/L',
        () => t4Found().aluminium.standardUncertainty.gramsPerLitre,
        ...source.t4Printed.Al.uGramsPerLitre,
      ],
      [
        'T5: phosphorus, mol/L',
        () => t5Found().totalAsNa3PO4.molPerLitre,
        ...source.t5Printed.Na3PO4.molPerLitre,
      ],
      [
        'T5: as Na3PO4, g/L',
        () => t5Found().totalAsNa3PO4.gramsPerLitre,
        ...source.t5Printed.Na3PO4.gramsPerLitre,
      ],
      [
        'T5: as the dodecahydrate, g/L',
        () => t5Found().totalAsDodecahydrate.gramsPerLitre,
        ...source.t5Printed['Na3PO4-12H2O'].gramsPerLitre,
      ],
      [
        'T5: free NaOH, mol/L',
        () => t5Found().freeHydroxide.molPerLitre,
        ...source.t5Printed.NaOH.molPerLitre,
      ],
      [
        'T5: free NaOH, g/L',
        () => t5Found().freeHydroxide.gramsPerLitre,
        ...source.t5Printed.NaOH.gramsPerLitre,
      ],
      [
        'T5 acidified: PO4, mol/L',
        () => t5AcidifiedFound().trisodiumPhosphate.molPerLitre,
        ...source.t5AcidifiedPrinted['Na3PO4-left'].molPerLitre,
      ],
      [
        'T5 acidified: Na3PO4, g/L',
        () => t5AcidifiedFound().trisodiumPhosphate.gramsPerLitre,
        ...source.t5AcidifiedPrinted['Na3PO4-left'].gramsPerLitre,
      ],
      [
        'T5 acidified: HPO4, mol/L',
        () => t5AcidifiedFound().hydrogenPhosphate.molPerLitre,
        ...source.t5AcidifiedPrinted.Na2HPO4.molPerLitre,
      ],
      [
        'T5 acidified: no free NaOH',
        () => t5AcidifiedFound().freeHydroxide.molPerLitre,
        ...source.t5AcidifiedPrinted.NaOH.molPerLitre,
      ],
      [
        'phosphoric acid, g/L',
        () => acid().phosphoricAcid.gramsPerLitre,
        ...source.phosphoricPrinted.H3PO4.gramsPerLitre,
      ],
      ['T6: density, g/mL', () => t6Found().densityKgPerM3 / 1000, ...source.t6GramsPerMl],
      ['T6: KOH, wt%', () => 100 * t6Found().component.massFraction, ...source.t6Printed.KOH.massPercent],
      [
        'T6: KOH at 40 °C, g/L',
        () => t6Found().component.gramsPerLitre,
        ...source.t6Printed.KOH.gramsPerLitre,
      ],
      [
        'T6: KOH once at 20 °C, g/L',
        () =>
          gramsPerLitreFrom({
            solute: 'KOH',
            massFraction: t6Found().component.massFraction,
            temperatureC: 20,
          }).gramsPerLitre,
        ...source.t6CooledPrinted.KOH.gramsPerLitre,
      ],
      [
        'T6: u(w), wt%',
        () => 100 * t6Found().component.standardUncertainty.massFraction,
        ...source.t6Printed.KOH.uMassPercent,
      ],
    ]),
  )('$name', ({ found, right, within }) => {
    expect(Math.abs(found() - right)).toBeLessThanOrEqual(within);
  });

  it('T1: relative uncertainties 0.79 % and 12 %', () => {
    const relative = ({
      molPerLitre,
      standardUncertainty,
    }: ReturnType<typeof t1Found>['hydroxide']): number => standardUncertainty.molPerLitre / molPerLitre;
    expect(relative(t1Found().hydroxide)).toBeCloseTo(0.0079, 4);
    expect(relative(t1Found().carbonate)).toBeCloseTo(0.12, 2);
  });

  it('T7: 180 g/L of acid with 10 g/L of aluminium weighs 1168.8 kg/m3, and a float for acid reads 277 g/L', () => {
    const aluminiumSulfate = 10 * (molarMass.Al2_SO4_3 / (2 * molarMass.Al));
    expect(aluminiumSulfate).toBeCloseTo(63.4, 1);
    const kgPerM3 = 1000 * t7.reading;
    const parts = [
      { solute: 'H2SO4', massFraction: 180 / kgPerM3 },
      { solute: 'Al2_SO4_3', massFraction: aluminiumSulfate / kgPerM3 },
    ] as const;
    expect(mixtureDensity({ parts, temperatureC: 20 }).kgPerM3).toBeCloseTo(kgPerM3, 0);

    const floatSays = (dissolved: { solute: 'Al2_SO4_3'; gramsPerLitre: number }[]): number =>
      concentrationFromHydrometer({ ...t7, dissolved }).component.gramsPerLitre;
    const [naive, naiveWithin] = source.t7NaivePrinted.H2SO4.gramsPerLitre;
    expect(Math.abs(floatSays([]) - naive)).toBeLessThan(naiveWithin);
    const [told, toldWithin] = source.t7Printed.H2SO4.gramsPerLitre;
    const gramsPerLitre = t7.aluminiumSulfateGramsPerLitre;
    expect(Math.abs(floatSays([{ solute: 'Al2_SO4_3', gramsPerLitre }]) - told)).toBeLessThan(toldWithin);
  });

  it('published factors: 49.04 and 8.994 g per equivalent of base, 5.453 g of acid per g of aluminium', () => {
    const one = titrateSulfuricAluminium({ ...t4, titrantEqPerLitre: 1, acidMl: 10, totalMl: 20 });
    expect(one.freeAcid.gramsPerLitre).toBeCloseTo(49.04, 2);
    expect(one.aluminium.gramsPerLitre).toBeCloseTo(8.994, 3);
    const bound = one.totalSulfateAsAcid.gramsPerLitre - one.freeAcid.gramsPerLitre;
    expect(bound / one.aluminium.gramsPerLitre).toBeCloseTo(5.453, 2);
  });

  it('FAO JECFA assay of KOH: 1 mL of 1 N acid is 56.11 mg of total alkali; between the end points, 138.2 mg K2CO3', () => {
    const found = titrateCausticTwoEndPoints({ ...assay, sample: pipetted(1000) });
    // In g/L of one litre: mg per mL of acid times mL.
    const { KOH, K2CO3 } = source.assayMgPerMl;
    expect(1000 * found.totalAlkaliAsHydroxide.gramsPerLitre).toBeCloseTo(10 * KOH[0], 1);
    expect(1000 * found.carbonate.gramsPerLitre).toBeCloseTo(K2CO3[0], 1);
  });
});
