import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pipetted } from '../../../reference/bath/readings.ts';
import { titrateCausticBariumChloride, titrateCausticTwoEndPoints } from './caustic.ts';

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
