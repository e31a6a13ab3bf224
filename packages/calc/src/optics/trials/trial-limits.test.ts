import { describe, expect, it } from 'vitest';
import type { StrengthTrial } from './strength-trial.ts';
import { trialLimits } from './trial-limits.ts';

const at = { temperatureC: 52, voltageV: 2.2, timeS: 470 };
/** A colour that turns by 1.5 in b for every degree. */
const trial = (change: Partial<StrengthTrial>): StrengthTrial => {
  const one = { ...at, strength: 50, outcome: 'interference' as const, ...change };
  return { ...one, lab: { L: 40, a: 10, b: -26 + 1.5 * (one.temperatureC - 52) }, ...change };
};
const limits = (trials: StrengthTrial[], toleranceDeltaE = 3) =>
  trialLimits({ trials, at, strength: 50, toleranceDeltaE });
const ladder = [46, 48, 50, 52, 54, 56, 58].map((temperatureC) => trial({ temperatureC }));

describe('limits from trials', () => {
  it('would go beyond what was tried, however forgiving the tolerance', () => {
    const { temperatureC } = limits(
      [50, 52, 54].map((t) => trial({ temperatureC: t })),
      100,
    );
    expect(temperatureC).toEqual({ low: 50, high: 54 });
  });
  it('would not narrow with the tolerance', () => {
    const wide = limits(ladder, 5).temperatureC;
    const narrow = limits(ladder, 1).temperatureC;
    expect((narrow?.high ?? 0) - (narrow?.low ?? 0)).toBeLessThan((wide?.high ?? 0) - (wide?.low ?? 0));
    expect(narrow?.low).toBeLessThanOrEqual(52);
  });
  it('would say something of a setting that was never varied', () => {
    expect(limits(ladder)).toMatchObject({ voltageV: null, timeS: null });
  });
  it('would say something at 110 V of trials at 28 V', () => {
    const trials = [27.6, 28, 28.4].map((voltageV) => trial({ voltageV }));
    const far = trialLimits({ trials, at: { ...at, voltageV: 110 }, strength: 50, toleranceDeltaE: 3 });
    expect(far).toEqual({ temperatureC: null, voltageV: null, timeS: null });
  });
  it('would call bare metal a colour that holds', () => {
    const bare = [50, 52, 54].map((temperatureC) => ({
      ...trial({ temperatureC }),
      outcome: 'none' as const,
    }));
    expect(limits(bare).temperatureC).toBeNull();
  });
  it('would call a powdery surface a colour that holds', () => {
    const powdery = [50, 52, 54].map((temperatureC) => trial({ temperatureC, outcome: 'powdery' }));
    expect(limits(powdery).temperatureC).toBeNull();
  });
  it('would count coupons whose colour nobody measured', () => {
    const unmeasured = [50, 52, 54].map((temperatureC) => {
      const one = trial({ temperatureC });
      delete one.lab;
      return one;
    });
    expect(limits(unmeasured).temperatureC).toBeNull();
  });
  it('refuses a tolerance of nothing', () => {
    expect(() => limits(ladder, 0)).toThrow(/toleranceDeltaE/);
  });
});
