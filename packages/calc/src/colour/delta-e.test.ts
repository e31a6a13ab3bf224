import { differenceCiede2000, differenceEuclidean } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import type { Lab } from './colour-types.ts';
import { deltaE2000, deltaE76 } from './delta-e.ts';

const anyLab = fc.record({
  L: fc.double({ min: 0, max: 100, noNaN: true }),
  a: fc.double({ min: -120, max: 120, noNaN: true }),
  b: fc.double({ min: -120, max: 120, noNaN: true }),
});
const oracleOf = ({ L, a, b }: Lab) => ({ mode: 'lab65' as const, l: L, a, b });

/** Hues 180 degrees apart, where the formula itself jumps and rounding decides the branch unless slack is given. */
const areOpposite = (first: Lab, second: Lab): boolean => {
  const along = first.a * second.a + first.b * second.b;
  const across = first.a * second.b - first.b * second.a;
  return along < 0 && Math.abs(across) <= 1e-6 * Math.abs(along);
};

describe('CIEDE2000 of Sharma, Wu and Dalal 2005, table 1', () => {
  it.each(readCsv('colour/ciede2000_sharma.csv'))('pair $pair', (row) => {
    const first = { L: Number(row['L1']), a: Number(row['a1']), b: Number(row['b1']) };
    const second = { L: Number(row['L2']), a: Number(row['a2']), b: Number(row['b2']) };
    // Published to 4 decimals: half a unit of the last.
    expect(Math.abs(deltaE2000(first, second) - Number(row['dE00']))).toBeLessThanOrEqual(0.5e-4);
    expect(Math.abs(deltaE2000(second, first) - Number(row['dE00']))).toBeLessThanOrEqual(0.5e-4);
  });
});

describe('properties', () => {
  it('a colour differs from itself by exactly nothing', () => {
    fc.assert(fc.property(anyLab, (lab) => deltaE2000(lab, lab) === 0 && deltaE76(lab, lab) === 0));
  });

  it('different colours differ, the same both ways', () => {
    fc.assert(
      fc.property(anyLab, anyLab, (first, second) => {
        fc.pre(deltaE76(first, second) > 1e-6);
        expect(deltaE2000(first, second)).toBeGreaterThan(0);
        expect(deltaE2000(second, first)).toBeCloseTo(deltaE2000(first, second), 9);
        expect(deltaE76(second, first)).toBe(deltaE76(first, second));
      }),
    );
  });

  it('agrees with culori under agreed factors, which forgive and never add', () => {
    const factor = fc.double({ min: 0.5, max: 4, noNaN: true });
    const anyFactors = fc.record({ kL: factor, kC: factor, kH: factor });
    fc.assert(
      fc.property(anyLab, anyLab, anyFactors, (first, second, factors) => {
        fc.pre(!areOpposite(first, second));
        const { kL, kC, kH } = factors;
        const oracle = differenceCiede2000(kL, kC, kH)(oracleOf(first), oracleOf(second));
        expect(deltaE2000(first, second, factors)).toBeCloseTo(oracle, 8);
      }),
    );
    const [light, dark] = [
      { L: 60, a: 0, b: 0 },
      { L: 40, a: 0, b: 0 },
    ];
    expect(deltaE2000(light, dark, { kL: 2, kC: 1, kH: 1 })).toBeCloseTo(deltaE2000(light, dark) / 2, 12);
  });

  it('agrees with culori', () => {
    const ciede2000 = differenceCiede2000();
    const euclidean = differenceEuclidean('lab65');
    fc.assert(
      fc.property(anyLab, anyLab, (first, second) => {
        fc.pre(!areOpposite(first, second));
        expect(deltaE2000(first, second)).toBeCloseTo(ciede2000(oracleOf(first), oracleOf(second)), 8);
        expect(deltaE76(first, second)).toBeCloseTo(euclidean(oracleOf(first), oracleOf(second)), 9);
      }),
    );
  });
});

describe('refusals', () => {
  const grey = { L: 50, a: 0, b: 0 };
  it.each([
    [{ kL: 0, kC: 1, kH: 1 }, 'factors.kL', 'out-of-range'],
    [{ kL: 1, kC: NaN, kH: 1 }, 'factors.kC', 'not-finite'],
    [{ kL: 1, kC: 1, kH: 11 }, 'factors.kH', 'out-of-range'],
  ])('factors %o', (factors, argument, code) => {
    expect(() => deltaE2000(grey, grey, factors)).toThrow(expect.objectContaining({ argument, code }));
  });

  it.each([
    [{ ...grey, L: NaN }, 'first.L', 'not-finite'],
    [{ ...grey, a: Infinity }, 'first.a', 'not-finite'],
    [{ ...grey, L: 100.5 }, 'first.L', 'out-of-range'],
    [{ ...grey, b: -201 }, 'first.b', 'out-of-range'],
  ] as const)('%o', (lab, argument, code) => {
    expect(() => deltaE2000(lab, grey)).toThrow(expect.objectContaining({ argument, code }));
    expect(() => deltaE76(lab, grey)).toThrow(expect.objectContaining({ argument, code }));
    expect(() => deltaE2000(grey, lab)).toThrow(
      expect.objectContaining({ argument: argument.replace('first', 'second') }),
    );
  });
});
