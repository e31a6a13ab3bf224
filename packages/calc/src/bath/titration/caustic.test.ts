import { describe, expect, it } from 'vitest';
import { pipetted, t1 } from '../../../reference/bath/readings.ts';
import { CalcError } from '../../errors.ts';
import { titrateCausticBariumChloride, titrateCausticTwoEndPoints } from './caustic.ts';

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
    expect(() => titrateCausticTwoEndPoints({ ...t1, titrantEqPerLitre: 5 })).toThrow(
      'amount of sample that fit together',
    );
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
