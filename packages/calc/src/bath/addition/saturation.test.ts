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
});
