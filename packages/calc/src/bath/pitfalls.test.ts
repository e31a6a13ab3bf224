import { describe, expect, it } from 'vitest';
import { t1 } from '../../reference/bath/readings.ts';
import { a1, planned } from '../../reference/bath/requests.ts';
import { dissolution } from './addition/dissolution.ts';
import { planAddition } from './addition/plan-addition.ts';
import type { AdditionRequest } from './addition/request.ts';
import { gramsPerLitreFrom, hydrateMassFraction, massFractionFrom, molarityFrom } from './concentration.ts';
import { conductivity } from './conductivity.ts';
import { gilliam } from './data/conductivity.ts';
import { density } from './density.ts';
import { topUpEvaporation } from './evaporation-top-up.ts';
import { dumpShareForImpurity } from './impurity.ts';
import { counterflowRinse } from './rinse.ts';
import { titrateCausticBariumChloride, titrateCausticTwoEndPoints } from './titration/caustic.ts';
import { concentrationFromHydrometer } from './titration/hydrometer.ts';
import { titrateSulfuricAcid, titrateSulfuricAluminium } from './titration/sulfuric.ts';
import { normalityFrom } from './titration/titrant.ts';

/**
 * What a first implementation gets wrong, each mistake under its number. Every test states the wrong
 * figure beside the right one, so that it fails for whoever falls in.
 */

const koh50 = { solute: 'KOH', massFraction: 0.5 } as const;

describe('pitfalls of the bath', () => {
  it('1: wt% is not g per 100 mL: 50 wt% KOH is 742 to 756 g/L, not 500', () => {
    expect(gramsPerLitreFrom({ ...koh50, temperatureC: 20 }).gramsPerLitre).toBeCloseTo(756.1, 0);
    expect(gramsPerLitreFrom({ ...koh50, temperatureC: 60 }).gramsPerLitre).toBeCloseTo(742.4, 0);
    expect(
      massFractionFrom({ solute: 'KOH', gramsPerLitre: 500, temperatureC: 20 }).massFraction,
    ).toBeLessThan(0.37);
  });

  it('2: g/L needs its temperature: 756 g/L analysed at 20 °C is 742 g/L in the bath at 60 °C', () => {
    const { massFraction } = massFractionFrom({ solute: 'KOH', gramsPerLitre: 756.147, temperatureC: 20 });
    const inBath = gramsPerLitreFrom({ solute: 'KOH', massFraction, temperatureC: 60 }).gramsPerLitre;
    expect(inBath).toBeCloseTo(742.4, 0);
    // Read as if it were at 60 °C, the same figure would pass for a stronger bath.
    const misread = massFractionFrom({
      solute: 'KOH',
      gramsPerLitre: 756.147,
      temperatureC: 60,
    }).massFraction;
    expect(misread - massFraction).toBeGreaterThan(0.006);
    const request = { ...a1, targetMassFraction: undefined, targetGramsPerLitre: 742.4 };
    expect(() => planAddition(request as unknown as AdditionRequest)).toThrow('referenceTemperatureC');
  });

  it('3: volumes do not add: 1 m3 of 50 wt% KOH and 1 m3 of water are 1.946 m3 of 30.1 wt%', () => {
    const water = 998.2 / (998.2 + density({ ...koh50, temperatureC: 20 }).kgPerM3);
    const mixed = planned({
      ...a1,
      volumeL: 1000,
      fullVolumeL: 1000,
      freeboardL: 2000,
      temperatureC: 20,
      massFraction: 0.5,
      targetMassFraction: 0.5 * (1 - water),
    });
    expect(100 * mixed.bathAfter.massFraction).toBeCloseTo(30.1, 1);
    expect(mixed.bathAfter.volumeL / 1000).toBeCloseTo(1.946, 3);
  });

  it('4: what is added is itself part of the bath: 43.5 kg, not 19.3 nor 27.2; no stock at or below the target', () => {
    const { stock, bathBefore } = planned(a1);
    const forgetful = (0.03 * bathBefore.kg) / 0.9;
    expect(forgetful).toBeCloseTo(19.3, 1);
    expect(stock.kg / forgetful).toBeCloseTo(2.25, 2);
    const byVolume = ((742.4 - bathBefore.gramsPerLitre) * 0.4) / 0.9;
    expect(byVolume).toBeCloseTo(27.2, 1);
    const reached = (0.47 * bathBefore.kg + 0.9 * byVolume) / (bathBefore.kg + byVolume);
    expect(100 * reached).toBeCloseTo(48.9, 1);
    expect(planAddition({ ...a1, stock: { form: 'liquid', massFraction: 0.5 } }).possible).toBe(false);
  });

  it('5: raising with solid lifts the level by 20 L on 400; without that room it decants first', () => {
    expect(planned(a1).bathAfter.volumeL - 400).toBeCloseTo(20, 0);
    const tight = planned({ ...a1, freeboardL: 0 });
    expect(tight.steps[0]?.action).toBe('decant');
    expect(tight.bathAfter.volumeL).toBeCloseTo(400, 6);
  });

  it('6: evaporation is not litres of level at 1 kg/L: 15.92 kg, not 14.75', () => {
    const found = topUpEvaporation({
      solute: 'KOH',
      fullVolumeL: 500,
      volumeL: 485,
      massFractionWhenFull: 0.5,
      temperatureC: 60,
    });
    expect(found.waterKg / (15 * 0.983)).toBeGreaterThan(1.07);
    expect(found.waterKg / (15 * 0.983)).toBeLessThan(1.09);
  });

  it('7: total alkalinity is not caustic: 743 g/L would read 783', () => {
    const found = titrateCausticTwoEndPoints(t1);
    expect(found.hydroxide.gramsPerLitre).toBeCloseTo(743.4, 1);
    expect(found.totalAlkaliAsHydroxide.gramsPerLitre).toBeCloseTo(782.7, 1);
    const excess = found.totalAlkaliAsHydroxide.gramsPerLitre / found.hydroxide.gramsPerLitre - 1;
    expect(100 * excess).toBeCloseTo(5.3, 1);
  });

  it('8: the second reading counts from zero or from the first, and it must be said which', () => {
    const increment = titrateCausticTwoEndPoints({
      ...t1,
      secondEndPointMl: 0.35,
      secondReading: 'from-first',
    });
    expect(increment.hydroxide.gramsPerLitre).toBeCloseTo(743.4, 1);
    expect(increment.carbonate.gramsPerLitre).toBeCloseTo(48.4, 1);
    // An increment taken for a cumulative reading lies below the first and is refused;
    expect(() => titrateCausticTwoEndPoints({ ...t1, secondEndPointMl: 0.35 })).toThrow('secondEndPointMl');
    // the reverse leaves a strong bath no water, and finds a weak one without hydroxide and says so.
    const reversed = { ...t1, secondReading: 'from-first' } as const;
    expect(() => titrateCausticTwoEndPoints(reversed)).toThrow('amount of sample that fit together');
    const reverse = titrateCausticTwoEndPoints({ ...reversed, titrantEqPerLitre: 0.1 });
    expect(reverse.hydroxide.molPerLitre).toBe(0);
    expect(reverse.flags.join()).toContain('check the readings');
    const unsaid = { ...t1, secondReading: undefined } as unknown as typeof t1;
    expect(() => titrateCausticTwoEndPoints(unsaid)).toThrow('secondReading');
  });

  it('9: aluminium is not acid: 7 g/L reads as 40 g/L more, and free acid is not total sulfate', () => {
    const sample = { volumeMl: 10, temperatureC: 20 };
    const found = titrateSulfuricAluminium({
      method: 'fluoride',
      titrantEqPerLitre: 1.005,
      acidMl: 37.1,
      totalMl: 45.2,
      sample,
    });
    const unmasked = titrateSulfuricAcid({
      titrantEqPerLitre: 1.005,
      endPointMl: 45.2,
      aluminium: 'counted',
      sample,
    });
    expect(unmasked.acid.gramsPerLitre - found.freeAcid.gramsPerLitre).toBeCloseTo(40, 0);
    expect(unmasked.acid.gramsPerLitre).toBeCloseTo(found.totalSulfateAsAcid.gramsPerLitre, 9);
    expect(unmasked.flags.join()).toContain('not free acid');
  });

  it('10: 0.5 mol/L sulfuric acid is 1 eq/L; the aliquot counts, not the sample', () => {
    const eqPerLitre = normalityFrom({ reagent: 'H2SO4', molPerLitre: 0.5 });
    expect(eqPerLitre).toBe(1);
    const byNormality = titrateCausticBariumChloride({
      solute: 'KOH',
      titrantEqPerLitre: eqPerLitre,
      totalMl: 13.675,
      hydroxideMl: 13.3,
      sample: { massG: 1.5, temperatureC: 20 },
    });
    expect(100 * byNormality.hydroxide.massFraction).toBeCloseTo(49.75, 2);
    const whole = { ...t1, sample: { volumeMl: 5, temperatureC: 20 } };
    const wrong = titrateCausticTwoEndPoints(whole).hydroxide.molPerLitre;
    expect(titrateCausticTwoEndPoints(t1).hydroxide.molPerLitre / wrong).toBeCloseTo(10, 9);
  });

  it('11: the bag holds a hydrate, flake holds water and carbonate', () => {
    expect(hydrateMassFraction({ solute: 'Na3PO4', waters: 12 })).toBeCloseTo(164 / 380, 3);
    const phosphate = {
      solute: 'Na3PO4',
      volumeL: 0,
      fullVolumeL: 100,
      freeboardL: 0,
      temperatureC: 20,
      massFraction: 0,
      targetMassFraction: 0.05,
    } as const;
    const bag = planned({
      ...phosphate,
      stock: { form: 'solid', massFraction: hydrateMassFraction({ solute: 'Na3PO4', waters: 12 }) },
    });
    const bare = planned({ ...phosphate, stock: { form: 'solid', massFraction: 1 } });
    expect(bag.stock.kg / bare.stock.kg).toBeCloseTo(380.12 / 163.94, 3);

    const watched = { ...a1, massFraction: 0.5, impurity: { gramsPerLitre: 40, targetGramsPerLitre: 50 } };
    const flake = planned({
      ...watched,
      volumeL: 300,
      stock: { form: 'solid', massFraction: 0.88, impurityMassFraction: 0.035 },
    });
    const fresh = (0.035 * flake.stock.kg * 1000) / 400;
    expect(flake.bathAfter.impurityGramsPerLitre).toBeCloseTo((40 * 300) / 400 + fresh, 6);
    expect(fresh).toBeGreaterThan(5);
  });

  it('12: a float is read at the temperature of the sample and lies where metal or carbonate is dissolved', () => {
    const float = { solute: 'KOH', scale: 'g/mL', reading: 1.478, dissolved: [] } as const;
    const right = concentrationFromHydrometer({ ...float, sampleTemperatureC: 40 });
    const tableAt20C = concentrationFromHydrometer({ ...float, sampleTemperatureC: 20 });
    expect(100 * right.component.massFraction).toBeCloseTo(48.1, 1);
    expect(100 * tableAt20C.component.massFraction).toBeCloseTo(47.1, 1);
    // 48.4 wt% with 48.4 g/L of carbonate weighs 1534 kg/m3 and would be read as 51.9.
    const carbonated = { solute: 'KOH', scale: 'g/mL', reading: 1.5344, sampleTemperatureC: 20 } as const;
    const asIfAlone = concentrationFromHydrometer({ ...carbonated, dissolved: [] }).component.massFraction;
    expect(Math.abs(100 * asIfAlone - 51.9)).toBeLessThan(0.06);
    const told = concentrationFromHydrometer({
      ...carbonated,
      dissolved: [{ solute: 'K2CO3', gramsPerLitre: 48.4 }],
    });
    expect(100 * told.component.massFraction).toBeCloseTo(48.4, 1);
    expect(concentrationFromHydrometer(carbonated).flags.join()).toContain('nothing else is dissolved');
  });

  it('13: the conductivity fit wants kelvin, mol/L at bath temperature, and gives S/cm', () => {
    const { siemensPerM } = conductivity({ ...koh50, temperatureC: 60 });
    expect(siemensPerM).toBeCloseTo(82.4, 1);
    const { A, B, C, D, E, F } = gilliam;
    const fit = (M: number, T: number): number =>
      A * M + B * M ** 2 + C * M * T + (D * M) / T + E * M ** 3 + F * M ** 2 * T ** 2;
    const { molPerLitre } = molarityFrom({ ...koh50, temperatureC: 60 });
    expect(fit(molPerLitre, 60) * 100).toBeGreaterThan(10 * siemensPerM);
    const analysedAt20C = molarityFrom({ ...koh50, temperatureC: 20 }).molPerLitre;
    expect(Math.abs(100 * fit(analysedAt20C, 333.15) - siemensPerM)).toBeGreaterThan(1);
    expect(siemensPerM).toBeGreaterThan(50);
  });

  it('14: past its range a fit is flagged, and the conductivity of cold strong KOH never turns upward', () => {
    const cold = [0.46, 0.47, 0.48, 0.49, 0.5].map((massFraction) =>
      conductivity({ solute: 'KOH', massFraction, temperatureC: 15 }),
    );
    for (const [i, point] of cold.entries()) {
      expect(point.siemensPerM).toBeLessThanOrEqual((cold[i - 1]?.siemensPerM ?? Infinity) + 1e-9);
    }
    expect(cold.at(-1)?.flags).toHaveLength(1);
    // The sodium hydroxide model would read 1.6 % high at 50 wt%, 100 °C.
    expect(density({ solute: 'NaOH', massFraction: 0.5, temperatureC: 100 }).kgPerM3).toBeLessThan(1470);
    expect(density({ solute: 'NaOH', massFraction: 0.52, temperatureC: 60 }).flags).toHaveLength(1);
  });

  it('22: the root of the dilution is a ratio, and it multiplies the drag-out of this job', () => {
    const { waterPerDragOut, flowLPerH } = counterflowRinse({
      stages: 2,
      dilution: 1060,
      dragOutLPerH: 1.44,
    });
    expect(waterPerDragOut).toBeCloseTo(32.05, 2);
    expect(flowLPerH).toBeCloseTo(46, 0);
    const twice = counterflowRinse({ stages: 2, dilution: 1060, dragOutLPerH: 2.88 });
    expect(twice.flowLPerH).toBeCloseTo(2 * (flowLPerH ?? 0), 9);
    expect(counterflowRinse({ stages: 2, dilution: 1060 }).flowLPerH).toBeNull();
  });

  it('24: nothing is rounded before it is subtracted: 14.549 to 16.190 wt%, not 14.5 to 16.2', () => {
    const acid = (gramsPerLitre: number): number =>
      massFractionFrom({ solute: 'H2SO4', gramsPerLitre, temperatureC: 20 }).massFraction;
    const request = {
      solute: 'H2SO4',
      volumeL: 1000,
      fullVolumeL: 1000,
      freeboardL: 20,
      temperatureC: 20,
      stock: { form: 'liquid', massFraction: 0.96 },
    } as const;
    const right = planned({ ...request, massFraction: acid(160), targetMassFraction: acid(180) });
    const rounded = planned({ ...request, massFraction: 0.145, targetMassFraction: 0.162 });
    expect(right.stock.kg).toBeCloseTo(22.61, 2);
    expect(rounded.stock.kg / right.stock.kg).toBeGreaterThan(1.03);
    // Litres of acid by g/L alone reach only 178.4 g/L.
    const naiveKg = 20 / 0.96;
    const m = right.bathBefore.kg;
    const reached = (m * acid(160) + naiveKg * 0.96) / (m + naiveKg);
    expect(
      gramsPerLitreFrom({ solute: 'H2SO4', massFraction: reached, temperatureC: 20 }).gramsPerLitre,
    ).toBeCloseTo(178.4, 1);
  });

  it('25: carbonate by difference is worth 10 to 15 %: it is shown, and one result dumps nothing', () => {
    const { carbonate, flags } = titrateCausticTwoEndPoints(t1);
    const relative = carbonate.standardUncertainty.gramsPerLitre / carbonate.gramsPerLitre;
    expect(relative).toBeGreaterThan(0.1);
    expect(relative).toBeLessThan(0.15);
    expect(flags.join()).toContain('repeat before acting');
    const dump = dumpShareForImpurity({
      gramsPerLitre: carbonate.gramsPerLitre,
      targetGramsPerLitre: 40,
      volumeL: 400,
      standardUncertaintyGramsPerLitre: carbonate.standardUncertainty.gramsPerLitre,
    });
    expect(dump.flags).toHaveLength(2);
    expect(dump.standardUncertaintyShare).toBeGreaterThan(0.09);
    const twice = dumpShareForImpurity({
      gramsPerLitre: 60,
      targetGramsPerLitre: 25,
      volumeL: 400,
      determinations: 2,
    });
    expect(twice.flags).toEqual([]);
  });

  it('26: heat of solution errs on the safe side: infinite dilution, 3.4 K where the bath would rise 2.3', () => {
    const given = { solute: 'KOH', stock: { form: 'solid', massFraction: 0.9 }, stockKg: 10 } as const;
    const found = dissolution({ ...given, bath: { kg: 1000, massFraction: 0.45, temperatureC: 60 } });
    const perMol = (found.kJ ?? 0) / ((10_000 * 0.9) / 56.1056);
    expect(perMol).toBeCloseTo(57.61, 6);
    expect((found.riseK ?? 0) * (39 / 57.61)).toBeCloseTo(2.3, 1);
  });
});
