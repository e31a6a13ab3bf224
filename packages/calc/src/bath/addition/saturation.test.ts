import { describe, expect, it } from 'vitest';
import { saturation } from './saturation.ts';

describe('saturation', () => {
  it.each([
    { solute: 'KOH', temperatureC: 0, right: 97 / 197 },
    { solute: 'KOH', temperatureC: 15, right: 107 / 207 },
    { solute: 'KOH', temperatureC: 20, right: 112 / 212 },
    { solute: 'KOH', temperatureC: 5, right: 0.5 },
    { solute: 'NaOH', temperatureC: 14, right: 0.5 },
    { solute: 'NaOH', temperatureC: 20, right: 0.522 },
    { solute: 'NaOH', temperatureC: 80, right: 0.758 },
  ] as const)('$solute is saturated at $temperatureC °C with a share of $right', ({ right, ...given }) => {
    // 50 wt% KOH is said to crystallise "near 5 °C".
    expect(saturation(given).massFraction).toBeCloseTo(right, given.temperatureC === 5 ? 2 : 4);
    expect(saturation(given).flags).toEqual([]);
  });

  it('solubility beyond its curve is flagged, of salts unknown, of acids unlimited', () => {
    expect(saturation({ solute: 'KOH', temperatureC: 60 }).massFraction).toBe(0.5283);
    expect(saturation({ solute: 'KOH', temperatureC: 60 }).flags).toHaveLength(1);
    expect(saturation({ solute: 'KOH', temperatureC: -10 }).massFraction).toBeCloseTo(0.476, 3);
    expect(saturation({ solute: 'Na3PO4', temperatureC: 20 })).toMatchObject({ massFraction: null });
    expect(saturation({ solute: 'Na3PO4', temperatureC: 20 }).flags).toHaveLength(1);
    expect(saturation({ solute: 'H2SO4', temperatureC: 20 })).toEqual({ massFraction: null, flags: [] });
  });

  it('carries the freezing curve of sodium hydroxide on with its first slope, flagged with its range', () => {
    const cold = saturation({ solute: 'NaOH', temperatureC: 2 });
    // 2.2 wt% between 14 and 20 °C, twice that far again to 2 °C.
    expect(cold.massFraction).toBeCloseTo(0.5 - 2 * 0.022, 10);
    expect(cold.flags).toEqual(['solubility of NaOH extrapolated: its source covers 14 to 80 °C']);
    expect(saturation({ solute: 'KOH', temperatureC: 20.1 }).flags).toEqual([
      'solubility of KOH extrapolated: its source covers 0 to 20 °C',
    ]);
  });

  it('phosphoric acid mixes in any proportion as well', () => {
    expect(saturation({ solute: 'H3PO4', temperatureC: 20 })).toEqual({ massFraction: null, flags: [] });
  });
});
