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
    expect(salt).toEqual({ kJ: null, riseK: null, flags: ['no heat of solution of Na3PO4 on file'] });
    const empty = { kg: 0, massFraction: 0, temperatureC: 20 };
    expect(dissolution({ solute: 'KOH', stock: flake, stockKg: 0, bath: empty })).toEqual({
      kJ: 0,
      riseK: 0,
      flags: [],
    });
  });
});
