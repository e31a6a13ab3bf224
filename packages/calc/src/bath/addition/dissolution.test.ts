import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flake } from '../../../reference/bath/requests.ts';
import { dissolution } from './dissolution.ts';

describe('heat of mixing', () => {
  it('a liquor has given off part of its heat already: less than the solid, more than nothing', () => {
    const bath = { kg: 700, massFraction: 0.2, temperatureC: 25 };
    const solid = dissolution({
      solute: 'NaOH',
      stock: { form: 'solid', massFraction: 0.5 },
      stockKg: 100,
      bath,
    });
    const liquor = dissolution({
      solute: 'NaOH',
      stock: { form: 'liquid', massFraction: 0.5 },
      stockKg: 100,
      bath,
    });
    expect(liquor.kJ).toBeLessThan(0.6 * (solid.kJ ?? 0));
    // At least what is left from the textbook value at 3 mol of water, 44.51 - 28.87 kJ/mol.
    expect(liquor.kJ).toBeGreaterThan((100_000 * 0.5 * (44.51 - 28.87)) / 39.9971);
  });

  it('is unknown for the salts and nothing for nothing', () => {
    const bath = { kg: 100, massFraction: 0.05, temperatureC: 20 };
    const salt = dissolution({ solute: 'Na3PO4', stock: flake, stockKg: 1, bath });
    const none = { kJ: null, riseK: null, expectedKJ: null, expectedRiseK: null };
    expect(salt).toEqual({ ...none, flags: ['no heat of solution of Na3PO4 on file'] });
    const empty = { kg: 0, massFraction: 0, temperatureC: 20 };
    expect(dissolution({ solute: 'KOH', stock: flake, stockKg: 0, bath: empty })).toEqual({
      kJ: 0,
      riseK: 0,
      expectedKJ: 0,
      expectedRiseK: 0,
      flags: [],
    });
  });
});

describe('expected heat', () => {
  const kohFlake = { solute: 'KOH', stock: flake } as const;
  const koh = { kg: 1000, massFraction: 0.45, temperatureC: 60 };
  const solidNaoh = { solute: 'NaOH', stock: { form: 'solid', massFraction: 1 } } as const;
  const water = { kg: 1000, massFraction: 0, temperatureC: 20 };
  const perMol = (kJ: number | null, kg: number, molarMass: number) =>
    ((kJ ?? NaN) * molarMass) / (1000 * kg);

  it('is that at infinite dilution for a little in much water', () => {
    const { expectedKJ } = dissolution({ ...kohFlake, stockKg: 0.001, bath: water });
    expect(perMol(expectedKJ, 0.0009, 56.1056)).toBeCloseTo(57.61, 3);
  });

  it('goes by the points of the table: 37.74 kJ/mol at 5 mol of water, 34.43 at 4', () => {
    for (const [waterMol, right] of [
      [5, 37.74],
      [4, 34.43],
    ] as const) {
      const bath = { ...water, kg: (waterMol * 18.0153) / 1000 };
      const { expectedKJ } = dissolution({ ...solidNaoh, stockKg: 39.9971 / 1000, bath });
      expect(expectedKJ).toBeCloseTo(right, 2);
    }
  });

  it('in two goes comes to the same as at once', () => {
    const kJ = (stockKg: number, bath: typeof water) =>
      dissolution({ ...solidNaoh, stockKg, bath }).expectedKJ ?? NaN;
    const half = { ...water, kg: 1100, massFraction: 100 / 1100 };
    expect(kJ(100, water) + kJ(100, half)).toBeCloseTo(kJ(200, water), 6);
  });

  it('of a liquor counts what it gave off when it was made: with the solid in its water, that of the solid', () => {
    const bath = { kg: 900, massFraction: 0.1, temperatureC: 25 };
    const liquor = dissolution({
      solute: 'KOH',
      stock: { form: 'liquid', massFraction: 0.5 },
      stockKg: 100,
      bath,
    });
    const made = dissolution({
      solute: 'KOH',
      stock: { form: 'solid', massFraction: 0.5 },
      stockKg: 100,
      bath: { ...water, kg: 0 },
    });
    const solid = dissolution({
      solute: 'KOH',
      stock: { form: 'solid', massFraction: 0.5 },
      stockKg: 100,
      bath,
    });
    expect((liquor.expectedKJ ?? NaN) + (made.expectedKJ ?? NaN)).toBeCloseTo(solid.expectedKJ ?? NaN, 6);
    expect(liquor.expectedKJ).toBeLessThan(liquor.kJ ?? 0);
  });

  it('says that it is an estimate, and is not given past the table, where the safe side stays', () => {
    const inside = dissolution({ ...kohFlake, stockKg: 10, bath: koh });
    expect(inside.flags).toEqual(['expected heat of KOH is an estimate: 48 ± 4 kJ/mol at 50 wt%']);
    for (const past of [
      dissolution({ ...kohFlake, stockKg: 10, bath: { ...koh, massFraction: 0.53 } }),
      dissolution({ ...solidNaoh, stockKg: 10, bath: { ...koh, massFraction: 0.425 } }),
      dissolution({ solute: 'NaOH', stock: { form: 'liquid', massFraction: 0.5 }, stockKg: 10, bath: water }),
      dissolution({
        solute: 'H2SO4',
        stock: { form: 'liquid', massFraction: 0.96 },
        stockKg: 1,
        bath: water,
      }),
    ]) {
      expect(past).toMatchObject({ expectedKJ: null, expectedRiseK: null });
      expect(past.riseK).toBeGreaterThan(0);
      expect(past.flags.join()).not.toContain('estimate');
    }
  });

  it('never lies above the most, whatever is added to whatever bath', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('KOH' as const, 'NaOH' as const),
        fc.constantFrom('solid' as const, 'liquid' as const),
        fc.record({
          strength: fc.double({ min: 0.3, max: 0.5, noNaN: true }),
          stockKg: fc.double({ min: 1, max: 500, noNaN: true }),
          massFraction: fc.double({ min: 0, max: 0.3, noNaN: true }),
        }),
        (solute, form, { strength, stockKg, massFraction }) => {
          const bath = { kg: 1000, massFraction, temperatureC: 25 };
          const stock = { form, massFraction: strength };
          const { riseK, expectedRiseK } = dissolution({ solute, stock, stockKg, bath });
          expect(expectedRiseK ?? 0).toBeLessThanOrEqual((riseK ?? NaN) + 1e-9);
        },
      ),
    );
  });
});

describe('water into strong liquor', () => {
  const stock = { form: 'solid', massFraction: 0.9 } as const;
  const diluted = (solute: 'KOH' | 'NaOH' | 'H2SO4', massFraction: number, waterKg: number) =>
    dissolution({ solute, stock, stockKg: 0, waterKg, bath: { kg: 100, massFraction, temperatureC: 25 } });

  it('NaOH from 40 to 20 wt%: its integral heat at 8.88 mol of water less that at 3.33, by hand', () => {
    // 1 kmol: 3.33 lies between 3 and 4 mol of water (28.87, 34.43), 8.88 between 5 and 10 (37.74, 42.51), straight in 1/r.
    const between = (r: number, [r0, h0, r1, h1]: [number, number, number, number]) =>
      h0 + ((h1 - h0) * (1 / r - 1 / r0)) / (1 / r1 - 1 / r0);
    const mol = 40_000 / 39.9971;
    const [before, after] = [60_000 / 18.0153 / mol, 160_000 / 18.0153 / mol];
    const kJ = mol * (between(after, [5, 37.74, 10, 42.51]) - between(before, [3, 28.87, 4, 34.43]));
    const found = diluted('NaOH', 0.4, 100);
    expect(found.kJ).toBeCloseTo(kJ, 0);
    expect(found.expectedKJ).toBeCloseTo(kJ, 0);
    expect(found.riseK).toBeGreaterThan(10);
    expect(found.riseK).toBeLessThan(20);
    expect(found.flags.join()).toMatch(/estimate/);
  });

  it('KOH of 50 wt% warms as it is thinned, a weak bath hardly at all', () => {
    expect(diluted('KOH', 0.5, 50).riseK).toBeGreaterThan(3);
    expect(diluted('KOH', 0.05, 5).riseK).toBeLessThan(0.5);
    expect(diluted('KOH', 0.4, 0)).toMatchObject({ kJ: 0, riseK: 0, flags: [] });
  });

  it('past the tables, and of the acid, it says that it is not counted', () => {
    for (const found of [diluted('NaOH', 0.5, 50), diluted('H2SO4', 0.3, 50)]) {
      expect(found).toMatchObject({ kJ: 0, expectedKJ: null });
      expect(found.flags.join()).toMatch(/not on file and not counted/);
    }
  });

  it('together with stock, what is expected never passes what is said to be the most', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.4, noNaN: true }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        (massFraction, waterKg, stockKg) => {
          const bath = { kg: 400, massFraction, temperatureC: 40 };
          const { kJ, expectedKJ } = dissolution({ solute: 'KOH', stock, stockKg, waterKg, bath });
          expect(expectedKJ ?? 0).toBeLessThanOrEqual((kJ ?? NaN) + 1e-6);
          expect(kJ).toBeGreaterThanOrEqual(0);
        },
      ),
    );
  });
});
