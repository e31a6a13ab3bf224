import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../reference/optics/seeded.ts';
import { deltaE2000 } from '../../colour/index.ts';
import { bestTriedSetting } from './best-tried.ts';
import { colourDrift } from './colour-drift.ts';
import type { StrengthTrial } from './strength-trial.ts';

const at = { temperatureC: 50, voltageV: 2.2, timeS: 480 };
/** A line that nature is made to follow here: colour by strength in wt%, and by the other settings. */
const law = (
  strength: number,
  { temperatureC, timeS, voltageV }: Partial<Omit<StrengthTrial, 'strength'>> = {},
) => ({
  L: 40 + 0.4 * (strength - 50) + 0.2 * ((temperatureC ?? 50) - 50),
  a: 8 - 0.5 * (strength - 50) + 2 * Math.log2((timeS ?? 480) / 480),
  b: -30 - 1.5 * (strength - 50) + 8 * ((voltageV ?? 2.2) - 2.2),
});
const trial = (strength: number, options: Partial<StrengthTrial> = {}): StrengthTrial => ({
  ...at,
  strength,
  outcome: 'interference',
  lab: law(strength, options),
  ...options,
});
const series = [46, 47, 48, 49, 50, 51, 52].map((strength) => trial(strength));
const drift = (options: Partial<Parameters<typeof colourDrift>[0]> = {}) =>
  colourDrift({
    trials: series,
    at,
    target: 50,
    present: { strength: 48, standardUncertainty: 0.4 },
    ...options,
  });

describe('where trials support it', () => {
  it('finds the colours of a known law, and their difference by CIEDE2000', () => {
    const { colour, gap, outcome, support } = drift();
    expect(gap).toBeNull();
    expect(outcome).toEqual({ target: 'interference', present: 'interference' });
    for (const [found, wanted] of [
      [colour?.target, law(50)],
      [colour?.present, law(48)],
    ] as const) {
      for (const axis of ['L', 'a', 'b'] as const) expect(found?.[axis]).toBeCloseTo(wanted[axis], 9);
    }
    expect(colour?.deltaE).toBeCloseTo(deltaE2000(law(50), law(48)), 9);
    expect(colour?.isTold).toBe(true);
    expect(support).toMatchObject({ near: 7, coloured: 7, strengths: { low: 46, high: 52 } });
  });

  it('is not tinted by a coloured trial of another outcome', () => {
    const dark = trial(49, { temperatureC: 55, outcome: 'dark', lab: { L: 12, a: 0, b: 0 } });
    const { colour, support } = drift({ trials: [...series, dark] });
    expect(support).toMatchObject({ near: 8, coloured: 7 });
    expect(colour?.deltaE).toBeCloseTo(deltaE2000(law(50), law(48)), 9);
  });

  it('does not draw the difference towards nothing, as a mean over neighbours would', () => {
    const lopsided = [...series, ...series.slice(0, 3), ...series.slice(0, 3)];
    expect(drift({ trials: lopsided }).colour?.deltaE).toBeCloseTo(deltaE2000(law(50), law(48)), 9);
  });

  it('tells strength from temperature, voltage and time that were varied beside it', () => {
    const random = seeded(5);
    const trials = Array.from({ length: 24 }, () => {
      const set = {
        temperatureC: random.uniform(47, 53),
        voltageV: random.uniform(2.05, 2.35),
        timeS: 480 * 2 ** random.uniform(-0.3, 0.3),
      };
      return trial(random.uniform(46, 52), set);
    });
    const { colour } = drift({ trials, target: 50, present: { strength: 48.5, standardUncertainty: 0 } });
    expect(colour?.deltaE).toBeCloseTo(deltaE2000(law(50), law(48.5)), 6);
    expect(colour?.spreadDeltaE).toBeCloseTo(0, 6);
  });

  it('is no difference at the target itself, whatever coupons scatter', () => {
    const trials = series.map((one, index) => ({
      ...one,
      lab: { ...law(one.strength), L: 40 + (index % 3) },
    }));
    const { colour } = drift({ trials, present: { strength: 50, standardUncertainty: 0 } });
    expect(colour).toMatchObject({ deltaE: 0, spreadDeltaE: 0, isTold: false });
    expect(colour?.scatterDeltaE).toBeGreaterThan(0.3);
  });

  it('a less certain strength makes a larger spread', () => {
    const uncertainty = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(uncertainty, uncertainty, (one, other) => {
        const spread = (standardUncertainty: number) =>
          drift({ present: { strength: 48, standardUncertainty } }).colour?.spreadDeltaE ?? NaN;
        fc.pre(Math.abs(one - other) > 1e-3);
        expect(Math.sign(spread(one) - spread(other))).toBe(Math.sign(one - other));
      }),
    );
  });

  it('scattered coupons make a larger spread, and a difference inside it is not told apart', () => {
    const random = seeded(11);
    const scattered = (by: number) =>
      series.map((one) => {
        const { L, a, b } = law(one.strength);
        return {
          ...one,
          lab: { L: L + by * random.normal(), a: a + by * random.normal(), b: b + by * random.normal() },
        };
      });
    const sure = { strength: 49.8, standardUncertainty: 0 };
    const [calm, wild] = [0.2, 3].map((by) => drift({ trials: scattered(by), present: sure }).colour);
    expect(wild?.spreadDeltaE).toBeGreaterThan(calm?.spreadDeltaE ?? NaN);
    expect(wild?.scatterDeltaE).toBeGreaterThan(calm?.scatterDeltaE ?? NaN);
    expect(wild?.isTold).toBe(false);
  });

  it('without an uncertainty of the analysis it claims no spread', () => {
    const { colour } = drift({ present: { strength: 48, standardUncertainty: null } });
    expect(colour).toMatchObject({ spreadDeltaE: null, isTold: null });
    expect(colour?.deltaE).toBeGreaterThan(1);
  });

  it('is the same in whatever unit strength is stated', () => {
    const by = 0.3;
    const found = drift({
      trials: series.map((one) => ({ ...one, strength: one.strength * by })),
      target: 50 * by,
      present: { strength: 48 * by, standardUncertainty: 0.4 * by },
    });
    expect(found.colour?.deltaE).toBeCloseTo(drift().colour?.deltaE ?? NaN, 9);
    expect(found.colour?.spreadDeltaE).toBeCloseTo(drift().colour?.spreadDeltaE ?? NaN, 9);
  });

  it('covers the true difference within twice its spread nearly always', () => {
    const random = seeded(3);
    const truth = deltaE2000(law(50), law(48.5));
    const inside = Array.from({ length: 200 }, () => {
      const trials = Array.from({ length: 14 }, (_, index) => {
        const strength = 46 + (index % 7);
        const { L, a, b } = law(strength);
        const lab = { L: L + random.normal(), a: a + random.normal(), b: b + random.normal() };
        return trial(strength, { lab });
      });
      const standardUncertainty = 0.3;
      const read = 48.5 + standardUncertainty * random.normal();
      const { colour } = drift({ trials, present: { strength: read, standardUncertainty } });
      return Math.abs((colour?.deltaE ?? NaN) - truth) <= 2 * (colour?.spreadDeltaE ?? NaN);
    });
    expect(inside.filter(Boolean).length).toBeGreaterThanOrEqual(180);
  });
});

describe('where trials do not support it, no figure is given and the gap is named', () => {
  it.each([
    ['no trials', { trials: [] }, 'no-trial-near'],
    ['a setting far from all', { at: { ...at, temperatureC: 75 } }, 'no-trial-near'],
    ['a bath far from all', { present: { strength: 30, standardUncertainty: 0.1 } }, 'no-trial-near'],
    [
      'a bath beyond what was tried',
      { present: { strength: 45.5, standardUncertainty: 0.1 } },
      'outside-tried',
    ],
    ['a target beyond what was tried', { target: 53 }, 'outside-tried'],
    ['one strength only', { trials: Array.from({ length: 8 }, () => trial(50)) }, 'one-strength'],
    ['too few', { trials: series.slice(2, 5) }, 'few-trials'],
    ['no colours measured', { trials: series.map(({ lab: _, ...one }) => one) }, 'few-trials'],
    [
      'outcomes that disagree',
      {
        trials: series.map((one, index) => ({
          ...one,
          outcome: index % 2 ? ('dark' as const) : one.outcome,
        })),
      },
      'trials-disagree',
    ],
    [
      'strength that always moved with temperature',
      { trials: series.map((one) => ({ ...one, temperatureC: one.strength })) },
      'not-separable',
    ],
    [
      'coupons without any order',
      { trials: series.map((one, index) => ({ ...one, lab: { L: 50, a: 0, b: index % 2 ? 70 : -70 } })) },
      'not-separable',
    ],
  ] as const)('%s: %s', (_, change, gap) => {
    expect(drift(change)).toMatchObject({ colour: null, gap });
  });

  it('a bath that left the window is told by its outcome, not by a colour difference', () => {
    const weak = [42, 43, 44, 45].map((strength) => trial(strength, { outcome: 'none' }));
    const strong = [48, 49, 50, 51, 52].flatMap((strength) => [trial(strength), trial(strength)]);
    const found = drift({
      trials: [...weak, ...strong],
      present: { strength: 42.5, standardUncertainty: 0.1 },
    });
    expect(found).toMatchObject({
      outcome: { target: 'interference', present: 'none' },
      colour: null,
      gap: null,
    });
  });

  it('a bath in which coupons come out powdery or spotted has no colour to drift, and is not untested', () => {
    for (const outcome of ['powdery', 'spotted', 'etched', 'bath-coloured'] as const) {
      const trials = series.map((one) => ({ ...one, outcome }));
      expect(drift({ trials })).toMatchObject({
        outcome: { target: outcome, present: outcome },
        colour: null,
        gap: null,
      });
    }
  });

  it('where nothing grows there is no colour to drift', () => {
    const none = series.map((one) => ({ ...one, outcome: 'none' as const }));
    expect(drift({ trials: none })).toMatchObject({ outcome: { present: 'none' }, colour: null, gap: null });
  });

  it('never a figure outside the tried strengths, nor without a line through at least four coupons', () => {
    const anyTrials = fc.array(fc.double({ min: 40, max: 60, noNaN: true }), { maxLength: 12 });
    fc.assert(
      fc.property(anyTrials, fc.double({ min: 40, max: 60, noNaN: true }), (input, strength) => {
        const trials = input.map((one) => trial(one));
        const { colour, support } = drift({ trials, present: { strength, standardUncertainty: 0.1 } });
        if (colour === null) return;
        expect(support.coloured).toBeGreaterThanOrEqual(4);
        expect(Math.min(strength, 50)).toBeGreaterThanOrEqual(support.strengths?.low ?? NaN);
        expect(Math.max(strength, 50)).toBeLessThanOrEqual(support.strengths?.high ?? NaN);
      }),
    );
  });

  it.each([
    [{ target: 0 }, 'target', 'out-of-range'],
    [{ target: NaN }, 'target', 'not-finite'],
    [{ present: { strength: -1, standardUncertainty: 0 } }, 'present.strength', 'out-of-range'],
    [{ present: { strength: 48, standardUncertainty: -1 } }, 'present.standardUncertainty', 'out-of-range'],
    [{ trials: [trial(Infinity)] }, 'trials[0].strength', 'not-finite'],
    [{ trials: [trial(50, { timeS: 0 })] }, 'trials[0].timeS', 'out-of-range'],
    [{ trials: [trial(50, { outcome: 'brown' as 'dark' })] }, 'trials[0].outcome', 'unknown'],
    [{ at: { ...at, voltageV: -1 } }, 'at.voltageV', 'out-of-range'],
  ])('refuses %o', (change, argument, code) => {
    expect(() => drift(change)).toThrow(expect.objectContaining({ argument, code }));
  });
});

describe('bestTriedSetting', () => {
  it('is the middle of the thickest cluster of coloured trials', () => {
    const blank = Array.from({ length: 9 }, () => trial(50, { temperatureC: 30, outcome: 'none' }));
    const trials = [
      ...blank.map(({ lab: _, ...one }) => one),
      ...[48, 50, 52, 70].map((temperatureC) => trial(50, { temperatureC })),
    ];
    expect(bestTriedSetting({ trials, target: 50 })).toEqual({ ...at, temperatureC: 50 });
  });

  it('is not a cluster of faults, nor of dye without a voltage', () => {
    const spotted = [49, 50, 51].map((temperatureC) => trial(50, { temperatureC, outcome: 'spotted' }));
    const dyed = [49, 50, 51].map((temperatureC): StrengthTrial => {
      const one = trial(50, { temperatureC, outcome: 'dyed' });
      delete one.voltageV;
      return one;
    });
    const good = trial(50, { temperatureC: 60 });
    expect(bestTriedSetting({ trials: [...spotted, ...dyed, good], target: 50 })).toEqual({
      ...at,
      temperatureC: 60,
    });
  });

  it('is nothing where no trial has a colour', () => {
    expect(bestTriedSetting({ trials: [], target: 50 })).toBeNull();
  });

  it('refuses a target of nothing', () => {
    expect(() => bestTriedSetting({ trials: [], target: 0 })).toThrow(
      expect.objectContaining({ argument: 'target' }),
    );
  });
});
