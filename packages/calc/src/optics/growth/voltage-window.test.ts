import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { growth, labAt } from '../../../reference/optics/titanium-growth.ts';
import { deltaE2000 } from '../../colour/index.ts';
import { voltageWindow } from './voltage-window.ts';

const anyVoltage = fc.double({ min: 10, max: 100, noNaN: true });

describe('voltageWindow', () => {
  const anyTolerance = fc.double({ min: 0.5, max: 10, noNaN: true });

  it('everything inside passes, everything just outside fails, unless the coupons end there', () => {
    fc.assert(
      fc.property(anyVoltage, anyTolerance, (voltageV, toleranceDeltaE) => {
        const target = labAt(voltageV);
        const { stretches } = voltageWindow({ target, toleranceDeltaE, growth });
        expect(
          stretches.some(
            (stretch) => stretch.lowestVoltageV <= voltageV && voltageV <= stretch.highestVoltageV,
          ),
        ).toBe(true);
        for (const {
          lowestVoltageV: low,
          highestVoltageV: high,
          bestVoltageV: best,
          deltaE,
          marginV,
        } of stretches) {
          expect(low).toBeGreaterThanOrEqual(10);
          expect(high).toBeLessThanOrEqual(100);
          // The searches read colours from a table that is within 0.01 of the model.
          for (const share of [0, 0.25, 0.5, 0.75, 1]) {
            expect(deltaE2000(target, labAt(low + share * (high - low)))).toBeLessThan(
              toleranceDeltaE + 0.01,
            );
          }
          if (low > 10) expect(deltaE2000(target, labAt(low - 0.02))).toBeGreaterThan(toleranceDeltaE - 0.01);
          if (high < 100)
            expect(deltaE2000(target, labAt(high + 0.02))).toBeGreaterThan(toleranceDeltaE - 0.01);
          expect(deltaE2000(target, labAt(best))).toBeCloseTo(deltaE, 2);
          expect(marginV).toBeCloseTo(Math.min(best - low, high - best), 9);
        }
      }),
    );
  });

  it('widens with the tolerance, and reports the best stretch first of all', () => {
    const target = labAt(50);
    const narrow = voltageWindow({ target, toleranceDeltaE: 1, growth });
    const wide = voltageWindow({ target, toleranceDeltaE: 6, growth });
    expect(narrow.stretches).toHaveLength(1);
    expect(wide.stretches).toHaveLength(2);
    expect(wide.lowestVoltageV).toBeLessThan(narrow.lowestVoltageV ?? NaN);
    expect(wide.highestVoltageV).toBeGreaterThan(narrow.highestVoltageV ?? NaN);
    expect(wide.bestVoltageV).toBeCloseTo(50, 1);
    expect(wide.stretches.map(({ order }) => order)).toEqual([1, 2]);
  });

  it('has no window for a colour the film never has', () => {
    const nothing = voltageWindow({ target: { L: 50, a: 0, b: 0 }, toleranceDeltaE: 2, growth });
    expect(nothing).toMatchObject({
      lowestVoltageV: null,
      highestVoltageV: null,
      bestVoltageV: null,
      stretches: [],
    });
    expect(nothing.flags.join()).toMatch(/no voltage/);
  });

  it('says when the coupons cut it off, and when it is narrower than the law is known', () => {
    const cut = voltageWindow({ target: labAt(99.5), toleranceDeltaE: 4, growth });
    expect(cut.highestVoltageV).toBe(100);
    expect(cut.flags.join()).toMatch(/cut off/);
    const loose = {
      ...growth,
      uncertainty: {
        covariance: [
          [4, 0],
          [0, 0.01],
        ],
        degreesOfFreedom: 4,
      },
    };
    expect(voltageWindow({ target: labAt(22), toleranceDeltaE: 2, growth: loose }).flags.join()).toMatch(
      /less exactly/,
    );
    expect(voltageWindow({ target: labAt(22), toleranceDeltaE: 2, growth }).flags).toEqual([]);
  });

  it('refuses a tolerance of nothing', () => {
    expect(() => voltageWindow({ target: labAt(22), toleranceDeltaE: 0, growth })).toThrow(
      expect.objectContaining({ argument: 'toleranceDeltaE', code: 'out-of-range' }),
    );
  });
});
