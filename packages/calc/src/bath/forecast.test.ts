import fc from 'fast-check';
import { sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { CalcError } from '../errors.ts';
import { forecast } from './forecast.ts';

/** A small generator of its own, so that the same noise comes every time. */
function noise(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (1664525 * state + 1013904223) % 2 ** 32;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

describe('drift', () => {
  it('NIST Norris: the certified slope, its standard error and the residual standard deviation', () => {
    const certified = new Map(
      readCsv('numeric/strd_linear_certified.csv')
        .filter((row) => row['dataset'] === 'Norris')
        .map((row) => [row['quantity'], row]),
    );
    const samples = readCsv('numeric/strd_linear_data.csv')
      .filter((row) => row['dataset'] === 'Norris')
      .map((row) => ({ day: Number(row['x']), value: Number(row['y']) }));
    const found = forecast({ samples });
    expect(found.driftPerDay).toBeCloseTo(Number(certified.get('B1')?.['value']), 10);
    expect(found.residualStandardDeviation).toBeCloseTo(Number(certified.get('residual_sd')?.['value']), 9);
    // Student's t for 34 degrees of freedom at 97.5 % is 2.0322 (tables).
    const halfWidth = (found.driftInterval.high - found.driftInterval.low) / 2;
    expect(halfWidth / Number(certified.get('B1')?.['sd'])).toBeCloseTo(2.0322, 4);
  });

  it('is seen under the saw-tooth of additions', () => {
    const samples = Array.from({ length: 12 }, (_, i) => ({
      day: 3 * i,
      value: 50 - 0.1 * 3 * i + (3 * i >= 15 ? 1.4 : 0),
    }));
    const found = forecast({ samples, additions: [{ day: 15, change: 1.4 }], lowerLimit: 47 });
    expect(found.driftPerDay).toBeCloseTo(-0.1, 10);
    expect(found.valueAtLastDay).toBeCloseTo(48.1, 10);
    expect(found.lower?.day).toBeCloseTo(33 + 11, 8);
    const blind = forecast({ samples });
    expect(Math.abs(blind.driftPerDay)).toBeLessThan(0.07);
  });
});

describe('the day the limit is reached', () => {
  const falling = [50.05, 49.46, 49.02, 48.44, 48.03].map((value, i) => ({ day: 5 * i, value }));

  it('lies inside its interval, and the interval closes with the confidence', () => {
    const wide = forecast({ samples: falling, lowerLimit: 47.5, confidence: 0.99 }).lower;
    const narrow = forecast({ samples: falling, lowerLimit: 47.5, confidence: 0.8 }).lower;
    if (!wide?.day || !wide.earliestDay || !wide.latestDay) throw new Error('a limit ahead');
    if (!narrow?.earliestDay || !narrow.latestDay) throw new Error('a limit ahead');
    expect(wide.earliestDay).toBeLessThan(narrow.earliestDay);
    expect(narrow.earliestDay).toBeLessThan(wide.day);
    expect(wide.day).toBeLessThan(narrow.latestDay);
    expect(narrow.latestDay).toBeLessThan(wide.latestDay);
  });

  it('a limit on the other side is never met by the line', () => {
    const found = forecast({ samples: falling, upperLimit: 52 });
    expect(found.lower).toBeNull();
    expect(found.upper).toMatchObject({ day: null, latestDay: null });
  });

  it('a drift not told from none has no latest day and says so', () => {
    const flat = [0, 5, 10, 15, 20].map((day, i) => ({
      day,
      value: 50 + (i % 2 ? 0.3 : -0.3) - 0.002 * day,
    }));
    const found = forecast({ samples: flat, lowerLimit: 49 });
    expect(found.flags).toContain('drift not told from none');
    expect(found.lower?.latestDay).toBeNull();
    expect(found.lower?.earliestDay).not.toBeNull();
  });

  it('a limit already passed is today', () => {
    const found = forecast({ samples: falling, lowerLimit: 49 });
    expect(found.lower?.day).toBe(20);
    expect(found.flags).toContain('lower limit already passed');
  });

  it('says nothing of a drift that is plain, and which limit is passed where one is', () => {
    expect(forecast({ samples: falling }).flags).toEqual([]);
    expect(forecast({ samples: falling, lowerLimit: 45 }).flags).toEqual([]);
    const rising = falling.map(({ day, value }) => ({ day, value: 100 - value }));
    expect(forecast({ samples: rising, upperLimit: 51 }).flags).toEqual(['upper limit already passed']);
    expect(forecast({ samples: rising, upperLimit: 55 }).flags).toEqual([]);
  });

  it('looks twenty times as far ahead as the samples reach back, and no further', () => {
    // A straight fall of 0.1 a day over 20 days: met at day 50, and at day 3000, past the 420 that are looked at.
    const straight = [0, 5, 10, 15, 20].map((day) => ({ day, value: 50 - 0.1 * day }));
    expect(forecast({ samples: straight, lowerLimit: 45 }).lower?.day).toBeCloseTo(50, 6);
    expect(forecast({ samples: straight, lowerLimit: -250 }).lower?.day).toBeNull();
  });

  it('gives a limit of the other side an early day at most', () => {
    const rising = falling.map(({ day, value }) => ({ day, value: 100 - value }));
    expect(forecast({ samples: rising, lowerLimit: 49 }).lower).toMatchObject({ day: null, latestDay: null });
  });

  it('holds in as many of 400 simulated baths as the confidence says', () => {
    const gauss = noise(7);
    const inside = Array.from({ length: 400 }, () => {
      const samples = Array.from({ length: 10 }, (_, i) => ({
        day: 4 * i,
        value: 50 - 0.05 * 4 * i + 0.15 * gauss(),
      }));
      const { lower } = forecast({ samples, lowerLimit: 47, confidence: 0.9 });
      return lower !== null && (lower.earliestDay ?? Infinity) <= 60 && 60 <= (lower.latestDay ?? Infinity);
    }).filter(Boolean).length;
    // 360 expected; three standard deviations of a binomial count are 18.
    expect(inside).toBeGreaterThan(360 - 18);
    expect(inside).toBeLessThan(360 + 18);
  });
});

describe('forecast, for any samples', () => {
  it('is the same line whatever the calendar or the order', () => {
    const values = fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 4, maxLength: 12 });
    fc.assert(
      fc.property(values, fc.integer({ min: -20000, max: 20000 }), (list, shift) => {
        const samples = list.map((value, day) => ({ day, value }));
        const there = forecast({ samples });
        const moved = forecast({
          samples: samples.map(({ day, value }) => ({ day: day + shift, value })).reverse(),
        });
        expect(moved.driftPerDay).toBeCloseTo(there.driftPerDay, 9);
        expect(moved.valueAtLastDay).toBeCloseTo(there.valueAtLastDay, 8);
        const spread = sampleStandardDeviation(list);
        expect(there.residualStandardDeviation).toBeLessThanOrEqual(
          spread * Math.sqrt((list.length - 1) / (list.length - 2)) + 1e-9,
        );
      }),
    );
  });

  it.each([
    [
      'samples',
      {
        samples: [
          { day: 0, value: 1 },
          { day: 1, value: 2 },
        ],
      },
    ],
    ['samples.value', { samples: [0, 1, 2].map((day) => ({ day, value: NaN })) }],
    ['lowerLimit', { samples: [0, 1, 2].map((day) => ({ day, value: day })), lowerLimit: 5, upperLimit: 4 }],
    ['lowerLimit', { samples: [0, 1, 2].map((day) => ({ day, value: day })), lowerLimit: 4, upperLimit: 4 }],
    ['confidence', { samples: [0, 1, 2].map((day) => ({ day, value: day })), confidence: 95 }],
    ['x', { samples: [0, 1, 2].map((value) => ({ day: 3, value })) }],
  ])('refuses bad %s', (argument, input) => {
    expect(() => forecast(input)).toThrow(CalcError);
    expect(() => forecast(input)).toThrow(`${argument} is`);
  });
});
