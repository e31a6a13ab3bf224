import fc from 'fast-check';
import { median, medianAbsoluteDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { hypergeometricTail, scoreOfTail } from './hypergeometric-tail.ts';
import { robustScore } from './robust-score.ts';

describe('a score that outliers do not widen', () => {
  it('finds the one of eight that NIST/SEMATECH 1.3.5.17 calls an outlier', () => {
    // Data of Tietjen and Moore (1972) there, from memory; by hand: 0.6745 (245.57 - 201.37) / 0.995.
    const history = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    const { score, median: middle, spread } = robustScore({ value: 245.57, history });
    expect(score).toBeCloseTo(29.963, 2);
    expect([middle, spread]).toEqual([expect.closeTo(201.37, 9), expect.closeTo(0.995 / 0.6745, 9)]);
    // With all of them a plain z-score stays below 2.5: the outlier widens what it is measured by.
    expect(Math.abs(robustScore({ value: 199.31, history }).score ?? 0)).toBeLessThan(3.5);
  });

  it('agrees with another library of statistics', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: -1000, max: 1000 }), { minLength: 5, maxLength: 40 }),
        fc.integer({ min: -1000, max: 1000 }),
        (history, value) => {
          const expected = (0.6745 * (value - median(history))) / medianAbsoluteDeviation(history);
          expect(robustScore({ value, history }).score).toBeCloseTo(expected, 9);
        },
      ),
    );
  });

  it('was divided by nothing where most of the history is one value', () => {
    const { score, median: middle, spread } = robustScore({ value: 62, history: [60, 60, 60, 60, 65] });
    expect(middle).toBe(60);
    expect(spread).toBeCloseTo(1.2533, 9);
    expect(score).toBeCloseTo(2 / 1.2533, 9);
    expect(robustScore({ value: 62, history: [60, 60, 60, 60, 60] }).score).toBeNull();
    expect(() => robustScore({ value: 1, history: [1, 2, 3, 4] })).toThrow(/at least 5/);
  });
});

describe('a tail by chance', () => {
  it('the lady tasting tea: four of four right, and three of four, as Fisher (1935) counts them', () => {
    const cups = { total: 8, withTrait: 4, drawn: 4 };
    expect(hypergeometricTail({ ...cups, drawnWithTrait: 4 }).probability).toBeCloseTo(1 / 70, 12);
    expect(hypergeometricTail({ ...cups, drawnWithTrait: 3 }).probability).toBeCloseTo(17 / 70, 12);
    expect(hypergeometricTail({ ...cups, drawnWithTrait: 0 }).probability).toBe(1);
  });

  it('one bad lot on a rack that carried one lot in forty', () => {
    const once = { total: 40, withTrait: 1, drawn: 1, drawnWithTrait: 1 };
    expect(hypergeometricTail(once).probability).toBeCloseTo(1 / 40, 12);
    expect(() => hypergeometricTail({ ...once, drawnWithTrait: 2 })).toThrow();
    expect(() => hypergeometricTail({ total: 4, withTrait: 3, drawn: 3, drawnWithTrait: 1 })).toThrow();
  });

  it('is told as standard deviations, as tables of the normal distribution do', () => {
    for (const [probability, score] of [
      [1, 0],
      [0.317310508, 1],
      [0.05, 1.959963985],
      [0.002699796, 3],
      [5.733e-7, 5],
    ] as const)
      expect(scoreOfTail({ probability }).score).toBeCloseTo(score, 3);
    expect(scoreOfTail({ probability: 1e-320 }).score).toBe(37);
    expect(() => scoreOfTail({ probability: 0 })).toThrow();
  });
});
