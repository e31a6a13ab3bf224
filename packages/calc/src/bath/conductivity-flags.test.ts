import { describe, expect, it } from 'vitest';
import { conductivity } from './conductivity.ts';

const saltAt = (massFraction: number, temperatureC: number) =>
  conductivity({ solute: 'NH4_2SO4', massFraction, temperatureC });
const acidAt = (massFraction: number) =>
  conductivity({ solute: 'H2SO4', massFraction, temperatureC: 25 }).flags;
const extrapolated = /^conductivity of .* extrapolated/;

describe('what is said beside a conductivity', () => {
  it('nothing where the table has the very point', () => {
    expect(saltAt(0.1, 20)).toEqual({ siemensPerM: 10.5, relativeUncertainty: 0.05, flags: [] });
    expect(saltAt(0.25, 20).flags).toEqual([]);
  });

  it('that a stronger liquid keeps the last value of the table', () => {
    const beyond = saltAt(0.26, 20);
    expect(beyond.siemensPerM).toBe(21.5);
    expect(beyond.flags).toEqual([
      'conductivity of NH4_2SO4 held at its last value: its table ends at 25 wt%',
    ]);
  });

  it('that a temperature is carried over by a rule of thumb, and how far', () => {
    const rule = 'conductivity of NH4_2SO4 known at 20 °C, carried over at 2 % per kelvin (rule of thumb)';
    expect(saltAt(0.1, 40).siemensPerM).toBeCloseTo(10.5 * 1.4, 9);
    expect(saltAt(0.1, 40).flags).toEqual([rule]);
    expect(saltAt(0.1, 41).siemensPerM).toBeCloseTo(10.5 * 1.4, 9);
    expect(saltAt(0.1, 41).flags).toEqual([`${rule}, no further than 20 K`]);
  });

  it('that a table is from memory, and then no uncertainty is claimed', () => {
    const memory = conductivity({ solute: 'H3PO4', massFraction: 0.1, temperatureC: 20 });
    expect(memory).toEqual({
      siemensPerM: 5.94,
      relativeUncertainty: null,
      flags: ['conductivity of H3PO4 is from memory, unverified'],
    });
  });

  it('that sulfuric acid is outside 1 to 6 mol/L', () => {
    // 20 % is 2.3 mol/L, 5 % 0.5 mol/L and 50 % 7.1 mol/L.
    expect(acidAt(0.2)).toEqual([]);
    expect(acidAt(0.05).filter((flag) => extrapolated.test(flag))).toHaveLength(1);
    expect(acidAt(0.5).filter((flag) => extrapolated.test(flag))).toHaveLength(1);
  });

  it('that potassium hydroxide is beyond the temperatures of its source, and not at their ends', () => {
    const at = (temperatureC: number) =>
      conductivity({ solute: 'KOH', massFraction: 0.3, temperatureC }).flags.filter((flag) =>
        extrapolated.test(flag),
      );
    expect(at(0)).toEqual([]);
    expect(at(100)).toEqual([]);
    expect(at(101)).toEqual(['conductivity of KOH extrapolated: its source covers 0 to 100 °C']);
  });
});

it.each([-0.01, 0.51])('refuses a gas fraction of %d', (gasFraction) => {
  expect(() => conductivity({ solute: 'KOH', massFraction: 0.3, temperatureC: 50, gasFraction })).toThrow(
    `gasFraction is ${gasFraction}`,
  );
});

it('names what it knows where it knows nothing', () => {
  expect(() => conductivity({ solute: 'K2CO3', massFraction: 0.1, temperatureC: 20 })).toThrow(
    /KOH, H2SO4, NH4_2SO4, NaOH/,
  );
});
