import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalAbove } from '../numeric/normal.ts';
import { judgeConformity } from './judge-conformity.ts';

const judged = (value: number, guardFactor: number, expandedUncertainty = 0.5) =>
  judgeConformity({ value, upperLimit: 3, expandedUncertainty, guardFactor });

describe('worked numbers of published rules', () => {
  it('JCGM 106:2012, breakdown voltage: -5.47 V, u 0.05 V, limit -5.40 V conforms with 0.92', () => {
    const { riskBeyond } = judgeConformity({
      ...{ value: -5.47, upperLimit: -5.4, expandedUncertainty: 0.1, guardFactor: 0 },
    });
    expect(1 - riskBeyond).toBeCloseTo(0.92, 2);
  });

  it('JCGM 106:2012, kinematic viscosity: 13.6, u 1.8, limits 12.5 and 16.3 conforms with 0.66', () => {
    const beyond = (upperLimit: number) =>
      judgeConformity({ value: 13.6, upperLimit, expandedUncertainty: 3.6, guardFactor: 0 }).riskBeyond;
    expect(beyond(12.5) - beyond(16.3)).toBeCloseTo(0.66, 2);
  });

  it.each([
    [1, 0.025],
    [0.83, 0.05],
    [0, 0.5],
  ])('ILAC-G8:09/2019, table 1: at the acceptance limit of w = %f U the risk is below %f', (r, most) => {
    const { acceptanceLimit } = judged(0, r);
    const { verdict, riskBeyond } = judged(acceptanceLimit, r);
    expect(verdict).toBe('pass');
    expect(riskBeyond).toBeLessThanOrEqual(most);
    expect(riskBeyond).toBeGreaterThan(0.9 * most);
  });

  it('ILAC-G8:09/2019, table 1: w = 1.5 U (three sigma) is below 0.16 %, 3 U (six sigma) below 1 in a million', () => {
    expect(judged(3 - 1.5 * 0.5, 1.5).riskBeyond).toBeLessThan(0.0016);
    expect(judged(3 - 3 * 0.5, 3).riskBeyond).toBeLessThan(1e-6);
  });
});

describe('the three verdicts', () => {
  it.each([
    [2.5, 'pass'],
    [2.501, 'warn'],
    [3, 'warn'],
    [3.001, 'hold'],
    [5.5, 'hold'],
  ])('%f against 3 with 0.5 guarded whole: %s', (value, verdict) => {
    expect(judged(value, 1).verdict).toBe(verdict);
  });

  it('a reading without doubt is judged by the limit alone', () => {
    expect(judged(3, 1, 0)).toEqual({ verdict: 'pass', acceptanceLimit: 3, riskBeyond: 0 });
    expect(judged(3.1, 1, 0)).toMatchObject({ verdict: 'hold', riskBeyond: 1 });
  });

  it('a guard band wider than the limit passes nothing', () => {
    expect(judged(0, 1, 4).verdict).toBe('warn');
  });
});

describe('properties', () => {
  const factor = fc.double({ min: 0, max: 3, noNaN: true });
  const figure = fc.double({ min: 0, max: 20, noNaN: true });
  const rank = { pass: 0, warn: 1, hold: 2 };

  it('a further value, a worse uncertainty or a wider band never judges milder', () => {
    fc.assert(
      fc.property(fc.tuple(figure, figure, figure), factor, ([value, uncertainty, more], guard) => {
        const first = judged(value, guard, uncertainty);
        const worse = [
          judged(value + more, guard, uncertainty),
          judged(value, guard, uncertainty + more),
          judged(value, Math.min(3, guard + more), uncertainty),
        ];
        for (const one of worse) expect(rank[one.verdict]).toBeGreaterThanOrEqual(rank[first.verdict]);
        expect(worse[0]?.riskBeyond).toBeGreaterThanOrEqual(first.riskBeyond - 1e-15);
      }),
    );
  });

  it('both tails of the normal distribution make one, and meet the printed quantiles', () => {
    fc.assert(
      fc.property(fc.double({ min: -8, max: 8, noNaN: true }), (z) => {
        expect(normalAbove(z) + normalAbove(-z)).toBeCloseTo(1, 12);
      }),
    );
    expect(normalAbove(1.959963984540054)).toBeCloseTo(0.025, 12);
    expect(normalAbove(3.090232306167813)).toBeCloseTo(0.001, 12);
    // Abramowitz and Stegun, table 26.2.
    expect(normalAbove(5) / 2.866515719e-7).toBeCloseTo(1, 9);
  });
});

describe('refusals', () => {
  const input = { value: 1, upperLimit: 3, expandedUncertainty: 0.5, guardFactor: 1 };
  it.each([
    [{ ...input, value: NaN }, 'value', 'not-finite'],
    [{ ...input, upperLimit: Infinity }, 'upperLimit', 'not-finite'],
    [{ ...input, expandedUncertainty: -0.1 }, 'expandedUncertainty', 'out-of-range'],
    [{ ...input, guardFactor: 3.1 }, 'guardFactor', 'out-of-range'],
  ])('%o', (wrong, argument, code) => {
    expect(() => judgeConformity(wrong)).toThrow(expect.objectContaining({ argument, code }));
  });
});
