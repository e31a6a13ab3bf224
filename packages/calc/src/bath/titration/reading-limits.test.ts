import { describe, expect, it } from 'vitest';
import { pipetted, t1, t4, t5 } from '../../../reference/bath/readings.ts';
import { titrateCausticBariumChloride, titrateCausticTwoEndPoints } from './caustic.ts';
import { titratePhosphate, titratePhosphoricAcid } from './phosphate.ts';
import { titrateSulfuricAcid, titrateSulfuricAluminium } from './sulfuric.ts';

const barium = { ...t1, totalMl: 27.35, hydroxideMl: 26.6 };
const acid = { titrantEqPerLitre: 1, endPointMl: 22.4, aluminium: 'none', sample: pipetted(5) } as const;

/** Every reading of every titration, to be replaced by one that no burette gives. */
const readings: [string, (ml: number) => unknown][] = [
  ['firstEndPointMl', (ml) => titrateCausticTwoEndPoints({ ...t1, firstEndPointMl: ml })],
  ['secondEndPointMl', (ml) => titrateCausticTwoEndPoints({ ...t1, secondEndPointMl: ml })],
  ['totalMl', (ml) => titrateCausticBariumChloride({ ...barium, totalMl: ml })],
  ['hydroxideMl', (ml) => titrateCausticBariumChloride({ ...barium, hydroxideMl: ml })],
  ['endPointMl', (ml) => titrateSulfuricAcid({ ...acid, endPointMl: ml })],
  ['acidMl', (ml) => titrateSulfuricAluminium({ ...t4, acidMl: ml })],
  ['totalMl', (ml) => titrateSulfuricAluminium({ ...t4, totalMl: ml })],
  ['firstEndPointMl', (ml) => titratePhosphate({ ...t5, firstEndPointMl: ml })],
  ['secondEndPointMl', (ml) => titratePhosphate({ ...t5, secondEndPointMl: ml })],
  ['firstEndPointMl', (ml) => titratePhosphoricAcid({ ...t5, firstEndPointMl: ml })],
  ['secondEndPointMl', (ml) => titratePhosphoricAcid({ ...t5, secondEndPointMl: ml })],
];

describe.each([-0.1, 1000.1, NaN])('a reading of %f mL', (ml) => {
  it.each(readings)('is refused as %s', (argument, titrate) => {
    expect(() => titrate(ml)).toThrow(`${argument} is ${ml}; allowed: at least 0 and at most 1000`);
  });
});

describe('what goes with the result', () => {
  it('barium chloride too says when carbonate is no more than a difference of readings', () => {
    const vague = { readingMl: 0.05, titrantRelative: 0.001, sampleRelative: 0.002 };
    const { flags } = titrateCausticBariumChloride({ ...barium, hydroxideMl: 27, uncertainty: vague });
    expect(flags).toEqual([
      'density of KOH extrapolated: its source ends at 51.86 wt%',
      'carbonate uncertain by more than 10 %: repeat before acting on it',
    ]);
  });

  it('fluoride is not the coarser method, and says nothing of it', () => {
    expect(titrateSulfuricAluminium(t4).flags).toEqual([]);
  });

  it('two atoms of aluminium weigh as one of sulfate: 180 g/L of acid with 10 g/L is 1168.8 kg/m3', () => {
    // T7: free acid B N 49.04/v, aluminium (A - B) N 8.994/v.
    const acidMl = (180 * 10) / 49.0395;
    const totalMl = acidMl + (10 * 10) / 8.994;
    const found = titrateSulfuricAluminium({ ...t4, titrantEqPerLitre: 1, acidMl, totalMl });
    expect(found.densityKgPerM3).toBeCloseTo(1168.8, 0);
  });
});
