import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { studentQuantile } from './student.ts';

// NIST/SEMATECH e-Handbook 1.3.6.7.2, critical values of Student's t (printed to three decimals).
const printed: [probability: number, degreesOfFreedom: number, t: number][] = [
  [0.9, 1, 3.078],
  [0.975, 1, 12.706],
  [0.975, 2, 4.303],
  [0.95, 5, 2.015],
  [0.975, 10, 2.228],
  [0.99, 20, 2.528],
  [0.999, 30, 3.385],
  [0.975, 100, 1.984],
];

describe('studentQuantile', () => {
  it.each(printed)('probability %d, %d degrees of freedom', (probability, degreesOfFreedom, t) => {
    expect(Math.abs(studentQuantile({ probability, degreesOfFreedom }) - t)).toBeLessThanOrEqual(0.0005);
  });

  it('has closed forms for one and two degrees of freedom', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), (probability) => {
        const one = Math.tan(Math.PI * (probability - 0.5));
        const two = (2 * probability - 1) / Math.sqrt(2 * probability * (1 - probability));
        expect(studentQuantile({ probability, degreesOfFreedom: 1 })).toBeCloseTo(one, 8);
        expect(studentQuantile({ probability, degreesOfFreedom: 2 })).toBeCloseTo(two, 8);
      }),
    );
  });

  it('is odd about one half and ends at the normal quantile', () => {
    expect(studentQuantile({ probability: 0.5, degreesOfFreedom: 7 })).toBe(0);
    expect(studentQuantile({ probability: 0.025, degreesOfFreedom: 7 })).toBeCloseTo(
      -studentQuantile({ probability: 0.975, degreesOfFreedom: 7 }),
      9,
    );
    expect(studentQuantile({ probability: 0.975, degreesOfFreedom: 1e6 })).toBeCloseTo(1.959964, 5);
  });

  it.each([
    [{ probability: 0, degreesOfFreedom: 3 }, 'probability'],
    [{ probability: 1, degreesOfFreedom: 3 }, 'probability'],
    [{ probability: 0.9, degreesOfFreedom: 0.5 }, 'degreesOfFreedom'],
  ])('refuses %o', (input, argument) => {
    expect(() => studentQuantile(input)).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});
