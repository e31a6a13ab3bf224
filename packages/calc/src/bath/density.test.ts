import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalcError } from '../errors.ts';
import { gramsPerLitreFrom, hydrateMassFraction, massFractionFrom, molarityFrom } from './concentration.ts';
import { liquidEndsAt } from './data/solubility.ts';
import { density, mixtureDensity } from './density.ts';
import { waterDensity } from './density-model.ts';
import { dissolvedSalts, type Solute, solutes } from './solutes.ts';

describe('density, single published values', () => {
  it.each([
    { source: 'Kell 1975, water', found: waterDensity(25), right: 997.045, within: 0.0005 },
    { source: 'Kell 1975, water', found: waterDensity(50), right: 988.036, within: 0.0005 },
    {
      source: 'phosphoric acid 85 wt%, 25 °C',
      found: density({ solute: 'H3PO4', massFraction: 0.85, temperatureC: 25 }).kgPerM3,
      right: 1684.5,
      within: 0.5,
    },
    {
      source: 'KOH 50 wt% at 20 °C: 1512 +-8',
      found: density({ solute: 'KOH', massFraction: 0.5, temperatureC: 20 }).kgPerM3,
      right: 1512,
      within: 0.5,
    },
    {
      source: 'KOH 48.4 wt% with 3.15 wt% K2CO3, 20 °C, mixture model',
      found: mixtureDensity({
        parts: [
          { solute: 'KOH', massFraction: 0.484 },
          { solute: 'K2CO3', massFraction: 0.0315 },
        ],
        temperatureC: 20,
      }).kgPerM3,
      right: 1534,
      within: 0.5,
    },
  ])('$source: $right', ({ found, right, within }) => {
    expect(Math.abs(found - right)).toBeLessThanOrEqual(within);
  });

  it('states the spread of the sources: +-8 kg/m3 for 50 wt% KOH', () => {
    const { bandKgPerM3 } = density({ solute: 'KOH', massFraction: 0.5, temperatureC: 20 });
    expect(bandKgPerM3).toBeCloseTo(8, 1);
    expect(density({ solute: 'KOH', massFraction: 0, temperatureC: 20 }).bandKgPerM3).toBe(0);
  });

  it('slopes of 50 wt% KOH: -0.69 kg/m3 per K, 11.9 kg/m3 per wt%', () => {
    const at = (massFraction: number, temperatureC: number): number =>
      density({ solute: 'KOH', massFraction, temperatureC }).kgPerM3;
    expect((at(0.5, 60) - at(0.5, 20)) / 40).toBeCloseTo(-0.69, 2);
    expect(at(0.505, 20) - at(0.495, 20)).toBeCloseTo(11.9, 1);
  });

  it.each([
    { gramsPerLitre: 165, wtPercent: 14.96, kgPerM3: 1102.8 },
    { gramsPerLitre: 180, wtPercent: 16.19, kgPerM3: 1111.8 },
    { gramsPerLitre: 200, wtPercent: 17.8, kgPerM3: 1123.8 },
  ])('sulfuric acid at 20 °C, $gramsPerLitre g/L is $wtPercent wt% and $kgPerM3 kg/m3', (row) => {
    const { massFraction } = massFractionFrom({
      solute: 'H2SO4',
      gramsPerLitre: row.gramsPerLitre,
      temperatureC: 20,
    });
    expect(Math.abs(100 * massFraction - row.wtPercent)).toBeLessThan(0.006);
    const { kgPerM3 } = density({ solute: 'H2SO4', massFraction, temperatureC: 20 });
    expect(Math.abs(kgPerM3 - row.kgPerM3)).toBeLessThan(0.06);
  });
});

describe('density, what it says about itself', () => {
  it.each([
    { solute: 'KOH', massFraction: 0.5, temperatureC: 60, flags: 0 },
    { solute: 'KOH', massFraction: 0.53, temperatureC: 60, flags: 1 },
    { solute: 'KOH', massFraction: 0.53, temperatureC: 100, flags: 2 },
    { solute: 'NaOH', massFraction: 0.1, temperatureC: 10, flags: 0 },
    { solute: 'NaOH', massFraction: 0.5, temperatureC: 10, flags: 1 },
    { solute: 'NaOH', massFraction: 0.51, temperatureC: 60, flags: 1 },
    { solute: 'H2SO4', massFraction: 0.96, temperatureC: 20, flags: 0 },
    { solute: 'H2SO4', massFraction: 0.96, temperatureC: 25, flags: 1 },
    { solute: 'Na3PO4', massFraction: 0.05, temperatureC: 20, flags: 0 },
    { solute: 'Na3PO4', massFraction: 0.09, temperatureC: 20, flags: 1 },
    { solute: 'K2CO3', massFraction: 0.4, temperatureC: 20, flags: 1 },
  ] as const)('$solute $massFraction at $temperatureC °C carries $flags flags', ({ flags, ...point }) => {
    expect(density(point).flags).toHaveLength(flags);
  });

  it('flags a mixture by its parts', () => {
    const parts = [
      { solute: 'KOH', massFraction: 0.1 },
      { solute: 'Na2CO3', massFraction: 0.05 },
    ] as const;
    expect(mixtureDensity({ parts, temperatureC: 20 }).flags).toEqual([]);
    const strong = [parts[0], { solute: 'Al2_SO4_3', massFraction: 0.45 }] as const;
    expect(mixtureDensity({ parts: strong, temperatureC: 20 }).flags).toEqual([
      'density with Al2_SO4_3 extrapolated: its coefficients end at 39.8 wt%',
    ]);
  });

  it.each([
    { argument: 'massFraction', given: { massFraction: NaN } },
    { argument: 'massFraction', given: { massFraction: 50 } },
    { argument: 'massFraction', given: { massFraction: -0.1 } },
    { argument: 'temperatureC', given: { temperatureC: Infinity } },
    { argument: 'temperatureC', given: { temperatureC: 333 } },
    { argument: 'solute', given: { solute: 'HCl' as Solute } },
  ])('refuses $given by the name of $argument', ({ argument, given }) => {
    const point = { solute: 'KOH' as const, massFraction: 0.5, temperatureC: 20, ...given };
    expect(() => density(point)).toThrow(CalcError);
    expect(() => density(point)).toThrow(argument);
  });

  it('refuses sodium carbonate of 99.85 wt% at 180 °C, which is no liquid: the model there gives 13 t/m3', () => {
    const point = { solute: 'Na2CO3', massFraction: 0.9985, temperatureC: 180 } as const;
    const refusal = 'massFraction is 0.9985; allowed: at least 0 and at most 0.35';
    expect(() => density(point)).toThrow(refusal);
    expect(() => gramsPerLitreFrom(point)).toThrow(refusal);
    expect(() => molarityFrom(point)).toThrow(refusal);
    expect(() => mixtureDensity({ parts: [point], temperatureC: 180 })).toThrow(refusal);
    const strongest = gramsPerLitreFrom({ ...point, massFraction: 0.35 }).gramsPerLitre;
    expect(() => massFractionFrom({ ...point, gramsPerLitre: strongest + 1 })).toThrow('gramsPerLitre');
  });

  it('refuses a mixture without water and an amount beyond the pure solute', () => {
    const parts = solutes.slice(0, 3).map((solute) => ({ solute, massFraction: 0.4 }));
    expect(() => mixtureDensity({ parts, temperatureC: 20 })).toThrow('120 wt% in all');
    expect(() => massFractionFrom({ solute: 'H2SO4', gramsPerLitre: 1900, temperatureC: 20 })).toThrow(
      'gramsPerLitre',
    );
  });
});

const anySolute = fc.constantFrom(...solutes);
const anyShare = fc.double({ min: 0, max: 1, noNaN: true });
const anyTemperature = fc.double({ min: -20, max: 200, noNaN: true });

describe('conversions, for any liquid', () => {
  it('come back to where they started', () => {
    fc.assert(
      fc.property(anySolute, anyShare, anyTemperature, (solute, share, temperatureC) => {
        const massFraction = share * liquidEndsAt[solute];
        const { gramsPerLitre } = gramsPerLitreFrom({ solute, massFraction, temperatureC });
        const back = massFractionFrom({ solute, gramsPerLitre, temperatureC });
        expect(back.massFraction).toBeCloseTo(massFraction, 10);
      }),
    );
  });

  it('grow with strength, without a jump', () => {
    fc.assert(
      fc.property(anySolute, anyShare, anyTemperature, (solute, share, temperatureC) => {
        const ends = liquidEndsAt[solute];
        const at = (w: number): number =>
          gramsPerLitreFrom({ solute, massFraction: w, temperatureC }).gramsPerLitre;
        const massFraction = share * (ends - 1e-4);
        const step = at(massFraction + 1e-4) - at(massFraction);
        expect(step).toBeGreaterThan(0);
        // The steepest, potassium carbonate at its end, takes up 0.4 g/L for a hundredth of a per cent more.
        expect(step).toBeLessThan(0.5);
      }),
    );
  });

  // Crystals at room temperature; handbook values, from memory.
  it.each([
    { solute: 'KOH', crystalKgPerM3: 2044 },
    { solute: 'NaOH', crystalKgPerM3: 2130 },
    { solute: 'Na3PO4', crystalKgPerM3: 2536 },
    { solute: 'K2CO3', crystalKgPerM3: 2430 },
    { solute: 'Na2CO3', crystalKgPerM3: 2540 },
    { solute: 'NH4_2SO4', crystalKgPerM3: 1769 },
    { solute: 'Al2_SO4_3', crystalKgPerM3: 2670 },
  ] as const)('no liquid of $solute is as dense as its crystal', ({ solute, crystalKgPerM3 }) => {
    fc.assert(
      fc.property(anyShare, anyTemperature, (share, temperatureC) => {
        const parts = [{ solute, massFraction: share * liquidEndsAt[solute] }];
        const { kgPerM3 } = mixtureDensity({ parts, temperatureC });
        expect(kgPerM3).toBeGreaterThan(850);
        expect(kgPerM3).toBeLessThan(crystalKgPerM3);
      }),
    );
  });

  it('a part of nothing changes no mixture', () => {
    fc.assert(
      fc.property(
        anySolute,
        fc.constantFrom(...dissolvedSalts),
        anyTemperature,
        (solute, other, temperatureC) => {
          const parts = [{ solute, massFraction: 0.2 }] as const;
          const alone = mixtureDensity({ parts, temperatureC }).kgPerM3;
          const withNothing = mixtureDensity({
            parts: [...parts, { solute: other, massFraction: 0 }],
            temperatureC,
          }).kgPerM3;
          expect(withNothing).toBe(alone);
          expect(alone).toBeCloseTo(density({ solute, massFraction: 0.2, temperatureC }).kgPerM3, 8);
        },
      ),
    );
  });
});

describe('hydrates', () => {
  it('hold the bare salt by their molar masses: 163.94 of 380.12 for Na3PO4·12H2O', () => {
    expect(hydrateMassFraction({ solute: 'Na3PO4', waters: 12 })).toBeCloseTo(163.94 / 380.12, 10);
    expect(hydrateMassFraction({ solute: 'KOH', waters: 0, purity: 0.9 })).toBe(0.9);
    expect(() => hydrateMassFraction({ solute: 'KOH', waters: 1.5 })).toThrow('waters');
  });
});

describe('a figure past its source', () => {
  it('was given with the band of a measured one', () => {
    const band = (temperatureC: number) => {
      const { bandKgPerM3, kgPerM3 } = density({ solute: 'KOH', massFraction: 0.5, temperatureC });
      return bandKgPerM3 / kgPerM3;
    };
    expect(band(95)).toBeCloseTo(0.0053, 12);
    expect(band(96)).toBeCloseTo(0.0106, 12);
    const strong = density({ solute: 'Na3PO4', massFraction: 0.25, temperatureC: 20 });
    expect(strong.bandKgPerM3 / strong.kgPerM3).toBeCloseTo(0.0114, 12);
  });

  it('did not say that the liquid boils', () => {
    const flagsAt = (solute: Solute, temperatureC: number) =>
      density({ solute, massFraction: 0.5, temperatureC }).flags.filter((flag) => flag.includes('boil'));
    expect(flagsAt('KOH', 144)).toEqual([]);
    expect(flagsAt('KOH', 145)).toEqual(['145 °C is above 144 °C, where KOH of this strength boils']);
    expect(flagsAt('H2SO4', 100)).toEqual([]);
    expect(flagsAt('H2SO4', 101)).toEqual(['101 °C is above 100 °C: the liquid may boil in an open tank']);
  });
});
