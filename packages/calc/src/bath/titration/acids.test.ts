import { describe, expect, it } from 'vitest';
import { pipetted, t4 } from '../../../reference/bath/readings.ts';
import { titratePhosphoricAcid } from './phosphate.ts';
import { titrateSulfuricAcid, titrateSulfuricAluminium } from './sulfuric.ts';

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
