import { describe, expect, it } from 'vitest';
import { compareAll } from '../../reference/quality/spc.ts';
import { capability } from './capability.ts';

// NIST/SEMATECH e-Handbook 6.1.6.
describe('capability', () => {
  const process = { mean: 16, sigma: 2, lowerLimit: 8, upperLimit: 20, inControl: true };

  it('gives the NIST example', () => {
    const found = capability(process);
    compareAll('capability_nist', {
      'Cp (USL 20 LSL 8 mean 16 s 2)': Number(found.cp),
      Cpu: Number(found.cpUpper),
      Cpl: Number(found.cpLower),
      Cpk: Number(found.cpk),
      k: Number(found.k),
    });
    expect(Number(found.cp) * (1 - Number(found.k))).toBeCloseTo(Number(found.cpk), 12);
  });

  it('knows one-sided limits', () => {
    const one = { mean: 16, sigma: 2, inControl: true };
    expect(capability({ ...one, upperLimit: 20 })).toMatchObject({
      cp: null,
      k: null,
      cpLower: null,
      cpUpper: 2 / 3,
      cpk: 2 / 3,
    });
    expect(capability({ ...one, lowerLimit: 8 })).toMatchObject({
      cp: null,
      k: null,
      cpUpper: null,
      cpLower: 4 / 3,
      cpk: 4 / 3,
    });
  });

  it('is negative where the mean is outside the tolerance', () => {
    expect(capability({ ...process, mean: 23 }).cpk).toBe(-0.5);
  });

  it('states none for a chart out of control', () => {
    expect(capability({ ...process, inControl: false })).toEqual({
      cp: null,
      cpUpper: null,
      cpLower: null,
      cpk: null,
      k: null,
      flags: ['no index: the chart is out of control'],
    });
  });

  it.each([
    [{ mean: 1, sigma: 1, inControl: true }, 'upperLimit'],
    [{ ...process, lowerLimit: 20 }, 'upperLimit'],
    [{ ...process, sigma: 0 }, 'sigma'],
    [{ ...process, lowerLimit: NaN }, 'lowerLimit'],
    [{ ...process, upperLimit: Infinity }, 'upperLimit'],
    [{ ...process, mean: NaN }, 'mean'],
  ])('refuses %o', (input, argument) => {
    expect(() => capability(input)).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});
