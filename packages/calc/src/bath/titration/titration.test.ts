import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalcError } from '../../errors.ts';
import { gramsPerLitreFrom } from '../concentration.ts';
import { molarMass } from '../data/molar-masses.ts';
import { mixtureDensity } from '../density.ts';
import { titrateCausticBariumChloride, titrateCausticTwoEndPoints } from './caustic.ts';
import { concentrationFromHydrometer } from './hydrometer.ts';
import { titratePhosphate, titratePhosphoricAcid } from './phosphate.ts';
import { titrateSulfuricAcid, titrateSulfuricAluminium } from './sulfuric.ts';
import { normalityFrom } from './titrant.ts';

const pipetted = (volumeMl: number): { volumeMl: number; temperatureC: number } => ({
  volumeMl,
  temperatureC: 20,
});

/** T1: 5 mL made up to 250, 25 taken. */
const t1 = {
  solute: 'KOH',
  titrantEqPerLitre: 0.5,
  firstEndPointMl: 13.6,
  secondEndPointMl: 13.95,
  secondReading: 'from-zero',
  sample: { ...pipetted(5), dilution: { madeUpToMl: 250, takenMl: 25 } },
  uncertainty: { titrantRelative: 0.001, readingMl: 0.03, sampleRelative: 0.006 },
} as const;

const t4 = {
  method: 'fluoride',
  titrantEqPerLitre: 1.005,
  acidMl: 37.1,
  totalMl: 45.2,
  sample: pipetted(10),
  uncertainty: { titrantRelative: 0.002 / 1.005, readingMl: 0.05, sampleRelative: 0.002 },
} as const;

const t5 = {
  titrantEqPerLitre: 0.1,
  firstEndPointMl: 31.4,
  secondEndPointMl: 60.5,
  secondReading: 'from-zero',
  sample: pipetted(10),
} as const;

const t6 = {
  solute: 'KOH',
  scale: 'g/mL',
  reading: 1.478,
  sampleTemperatureC: 40,
  dissolved: [],
  uncertainty: { gramsPerMl: 0.001, temperatureC: 1 },
} as const;

/** Worked examples; each tolerance is half of the last digit that the source prints. */
describe('worked examples of the reference', () => {
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

  it.each([
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
  ])('%s', (_name, found, right, within) => {
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

describe('caustic, what it says about itself', () => {
  it('questions a second end point below the first', () => {
    expect(() => titrateCausticTwoEndPoints({ ...t1, secondEndPointMl: 13.5 })).toThrow(
      'secondEndPointMl is 13.5; allowed: at least the first end point of 13.6 mL',
    );
    const barium = { ...t1, totalMl: 20, hydroxideMl: 20.1 };
    expect(() => titrateCausticBariumChloride(barium)).toThrow('totalMl is 20');
  });

  it('finds carbonate and hydrogencarbonate without hydroxide', () => {
    const found = titrateCausticTwoEndPoints({ ...t1, firstEndPointMl: 5, secondEndPointMl: 13.95 });
    expect(found.hydroxide.molPerLitre).toBe(0);
    expect(found.carbonate.molPerLitre).toBeCloseTo((0.5 * 5) / 0.5, 9);
    expect(found.hydrogencarbonate.molPerLitre).toBeCloseTo((0.5 * 3.95) / 0.5, 9);
    expect(found.flags.join()).toContain('no free hydroxide');
  });

  it('sends small carbonate to the barium chloride method', () => {
    const found = titrateCausticTwoEndPoints({ ...t1, secondEndPointMl: 13.7 });
    expect(found.flags.join()).toContain('barium chloride');
    expect(titrateCausticTwoEndPoints({ ...t1, secondEndPointMl: 15 }).flags).toEqual([]);
  });

  it('refuses a bath that would be all solute, and names what is wrong with a sample', () => {
    expect(() => titrateCausticTwoEndPoints({ ...t1, titrantEqPerLitre: 5 })).toThrow(CalcError);
    expect(() => titrateCausticTwoEndPoints({ ...t1, titrantEqPerLitre: 5 })).toThrow('leave room for water');
    const diluted = { ...pipetted(5), dilution: { madeUpToMl: 4, takenMl: 2 } };
    expect(() => titrateCausticTwoEndPoints({ ...t1, sample: diluted })).toThrow(
      'sample.dilution.madeUpToMl',
    );
    const overdrawn = { ...pipetted(5), dilution: { madeUpToMl: 100, takenMl: 200 } };
    expect(() => titrateCausticTwoEndPoints({ ...t1, sample: overdrawn })).toThrow('sample.dilution.takenMl');
  });

  it('a weighed sample needs no density for wt%, a pipetted one none for g/L', () => {
    const weighed = titrateCausticBariumChloride({
      ...t1,
      totalMl: 27.35,
      hydroxideMl: 26.6,
      sample: { massG: 1.5, temperatureC: 20 },
    });
    const { massFraction, gramsPerLitre, standardUncertainty: u } = weighed.hydroxide;
    expect(u.gramsPerLitre / gramsPerLitre).toBeGreaterThan(u.massFraction / massFraction);
    const byVolume = titrateCausticTwoEndPoints(t1).hydroxide;
    expect(byVolume.standardUncertainty.massFraction / byVolume.massFraction).toBeGreaterThan(
      byVolume.standardUncertainty.gramsPerLitre / byVolume.gramsPerLitre,
    );
  });
});

describe('acids and phosphate, what they say about themselves', () => {
  it('free acid alone, with aluminium masked or counted', () => {
    const given = { titrantEqPerLitre: 1, endPointMl: 22.4, sample: pipetted(5) };
    const masked = titrateSulfuricAcid({ ...given, aluminium: 'masked' });
    const counted = titrateSulfuricAcid({ ...given, aluminium: 'counted' });
    expect(masked.acid.gramsPerLitre).toBeCloseTo((22.4 * 49.0395) / 5, 3);
    expect(masked.flags).toEqual([]);
    expect(counted.flags.join()).toContain('total sulfate');
  });

  it('questions fluoride readings the wrong way round, and flags the coarser method', () => {
    expect(() => titrateSulfuricAluminium({ ...t4, acidMl: 46 })).toThrow('at least the acid reading');
    expect(titrateSulfuricAluminium({ ...t4, method: 'two-end-points' }).flags.join()).toContain('coarser');
  });

  it.each([
    { firstEndPointMl: 8.2, secondEndPointMl: 17.4, other: 'weak', acid: 2.05, otherAcid: 0.25 },
    { firstEndPointMl: 8.2, secondEndPointMl: 15.4, other: 'strong', acid: 1.8, otherAcid: 0.25 },
  ])('phosphoric acid with another $other acid', (row) => {
    const found = titratePhosphoricAcid({
      ...row,
      titrantEqPerLitre: 0.5,
      secondReading: 'from-zero',
      sample: pipetted(2),
    });
    expect(found.phosphoricAcid.molPerLitre).toBeCloseTo(row.acid, 9);
    expect(found.otherAcidMolPerLitre).toBeCloseTo(row.otherAcid, 9);
    expect(found.flags.join()).toContain(row.other);
  });
});

describe('hydrometer', () => {
  it.each([
    { scale: 'SG60F', reading: 1.5, kgPerM3: 1498.56 },
    { scale: 'Baume', reading: 48, kgPerM3: (1000 * 0.99904 * 145) / 97 },
    { scale: 'Twaddell', reading: 100, kgPerM3: 1498.56 },
  ] as const)('$scale $reading is $kgPerM3 kg/m3 at 60 °F', ({ kgPerM3, ...reading }) => {
    const found = concentrationFromHydrometer({
      solute: 'KOH',
      sampleTemperatureC: 15.56,
      dissolved: [],
      ...reading,
    });
    expect(found.densityKgPerM3).toBeCloseTo(kgPerM3, 6);
  });

  it('says what the spread of the sources means: +-0.7 wt% for 50 wt% KOH', () => {
    const found = concentrationFromHydrometer({ ...t6, reading: 1.5123, sampleTemperatureC: 20 });
    expect(found.component.massFraction).toBeCloseTo(0.5, 4);
    expect(found.sourceBandMassFraction).toBeCloseTo(0.0067, 4);
  });

  it.each([
    { reading: 0.9, solute: 'KOH' },
    { reading: 1.85, solute: 'H2SO4' },
  ] as const)('refuses a reading of $reading for $solute', (given) => {
    expect(() => concentrationFromHydrometer({ ...t6, ...given })).toThrow('reading is');
  });
});

describe('titrant', () => {
  it('is refused by name when unknown or impossible', () => {
    expect(normalityFrom({ reagent: 'HCl', molPerLitre: 0.5 })).toBe(0.5);
    expect(() => normalityFrom({ reagent: 'H3BO3' as 'HCl', molPerLitre: 1 })).toThrow('reagent');
    expect(() => normalityFrom({ reagent: 'HCl', molPerLitre: 0 })).toThrow('molPerLitre');
  });
});

describe('titration, for any bath', () => {
  const bath = fc.record({
    hydroxide: fc.double({ min: 0.5, max: 12, noNaN: true }),
    carbonate: fc.double({ min: 0, max: 1, noNaN: true }),
    titrantEqPerLitre: fc.double({ min: 0.05, max: 2, noNaN: true }),
  });

  it('finds what was put in, by either convention and either method', () => {
    fc.assert(
      fc.property(bath, ({ hydroxide, carbonate, titrantEqPerLitre }) => {
        const perMl = 1 / titrantEqPerLitre;
        const first = (hydroxide + carbonate) * perMl;
        const second = (hydroxide + 2 * carbonate) * perMl;
        const shared = { solute: 'NaOH', titrantEqPerLitre, sample: pipetted(1) } as const;
        const cumulative = titrateCausticTwoEndPoints({
          ...shared,
          firstEndPointMl: first,
          secondEndPointMl: second,
          secondReading: 'from-zero',
        });
        const increment = titrateCausticTwoEndPoints({
          ...shared,
          firstEndPointMl: first,
          secondEndPointMl: second - first,
          secondReading: 'from-first',
        });
        const barium = titrateCausticBariumChloride({
          ...shared,
          totalMl: second,
          hydroxideMl: hydroxide * perMl,
        });
        for (const found of [cumulative, increment, barium]) {
          expect(found.hydroxide.molPerLitre).toBeCloseTo(hydroxide, 8);
          expect(found.carbonate.molPerLitre).toBeCloseTo(carbonate, 8);
        }
      }),
    );
  });

  it('a sample weighed or pipetted gives the same bath', () => {
    fc.assert(
      fc.property(bath, ({ hydroxide, carbonate, titrantEqPerLitre }) => {
        const readings = {
          solute: 'KOH',
          titrantEqPerLitre,
          firstEndPointMl: (hydroxide + carbonate) / titrantEqPerLitre,
          secondEndPointMl: (hydroxide + 2 * carbonate) / titrantEqPerLitre,
          secondReading: 'from-zero',
        } as const;
        const byVolume = titrateCausticTwoEndPoints({ ...readings, sample: pipetted(1) });
        const massG = byVolume.densityKgPerM3 / 1000;
        const byMass = titrateCausticTwoEndPoints({ ...readings, sample: { massG, temperatureC: 20 } });
        expect(byMass.hydroxide.gramsPerLitre).toBeCloseTo(byVolume.hydroxide.gramsPerLitre, 6);
        expect(byMass.carbonate.massFraction).toBeCloseTo(byVolume.carbonate.massFraction, 9);
      }),
    );
  });
});
