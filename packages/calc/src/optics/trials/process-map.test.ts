import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../reference/optics/seeded.ts';
import { deltaE2000 } from '../../colour/index.ts';
import { processMap } from './process-map.ts';
import type { ProcessTrial } from './process-trial.ts';
import { steelTrials } from './steel-trials.ts';
import type { TrialOutcome } from './trial-outcomes.ts';
import { withdrawalTrials } from './withdrawal-trials.ts';

const at = { temperatureC: 50, voltageV: 2.25, timeS: 240, massFraction: 0.5 };
const straw = { L: 60, a: 8, b: 35 };
const blue = { L: 40, a: 5, b: -35 };

describe('steel in 50 wt% KOH from its starting table (common practice, no source)', () => {
  it.each([
    [30, 2, 'none'],
    [32, 2.1, 'none'],
    [28, 2.3, 'none'],
    [50, 1.0, 'none'],
    [48, 2.4, 'interference'],
    [50, 2, 'interference'],
    [52, 2.2, 'interference'],
    [50, 2.5, 'interference'],
    [70, 2, 'interference'],
    [88, 2.3, 'dark'],
    [90, 2, 'dark'],
    [93, 2.5, 'dark'],
  ] as const)('%d °C and %d V: %s', (temperatureC, voltageV, expected) => {
    const point = processMap({ trials: steelTrials, at: { ...at, temperatureC, voltageV } });
    expect(point.class).toBe(expected);
    expect(point.probabilities?.[expected]).toBeGreaterThan(0.7);
    expect(point.flags).toEqual([]);
  });

  it.each([
    [{ temperatureC: 120 }],
    [{ temperatureC: 5 }],
    [{ voltageV: 5 }],
    [{ voltageV: 0 }],
    [{ timeS: 6 * 3600 }],
    [{ timeS: 5 }],
    [{ massFraction: 0.3 }],
  ])('away from every trial it says untested: %o', (change) => {
    const point = processMap({ trials: steelTrials, at: { ...at, ...change } });
    expect(point).toMatchObject({ class: 'untested', probabilities: null, lab: null, spreadDeltaE: null });
    expect(point.nearest?.distance).toBeGreaterThan(1);
    expect(point.flags.join()).toMatch(/untested/);
  });

  it('between two outcomes it does not pretend to know', () => {
    const point = processMap({ trials: steelTrials, at: { ...at, temperatureC: 40 } });
    expect(Math.max(...Object.values(point.probabilities ?? {}))).toBeLessThan(0.6);
    expect(point.flags.join()).toMatch(/disagree/);
  });

  it('says of every row where it comes from, and claims no colour', () => {
    expect(new Set(steelTrials.map(({ evidence }) => evidence))).toEqual(new Set(['C', 'P']));
    for (const trial of steelTrials) {
      expect(trial.source).toMatch(
        trial.evidence === 'C' ? /^common practice, no source$/ : /J\. Electrochem\. Soc\./,
      );
      expect(trial.lab).toBeUndefined();
    }
    expect(processMap({ trials: steelTrials, at }).lab).toBeNull();
  });
});

describe('what a map makes of trials', () => {
  it('one trial is no certainty, several are nearly one', () => {
    const trial: ProcessTrial = { ...at, outcome: 'interference', lab: blue };
    const one = processMap({ trials: [trial], at });
    expect(one.probabilities?.interference).toBeCloseTo((1 + 0.5 / 3) / 1.5, 9);
    expect(one).toMatchObject({ class: 'interference', lab: blue, spreadDeltaE: null, support: 1 });
    expect(one.flags.join()).toMatch(/single coloured trial/);
    const many = processMap({ trials: Array.from({ length: 10 }, () => trial), at });
    expect(many.probabilities?.interference).toBeGreaterThan(0.95);
    expect(many.spreadDeltaE).toBeCloseTo(0, 9);
  });

  it('colour is the mean of the likeliest class, with its spread; other classes do not tint it', () => {
    const trials: ProcessTrial[] = [
      { ...at, outcome: 'interference', lab: straw, thicknessNm: 30 },
      { ...at, outcome: 'interference', lab: blue, thicknessNm: 50 },
      { ...at, outcome: 'dark', lab: { L: 10, a: 0, b: 0 }, thicknessNm: 900 },
    ];
    const point = processMap({ trials, at });
    const middle = { L: 50, a: 6.5, b: 0 };
    expect(point.lab).toEqual(middle);
    expect(point.thicknessNm).toBeCloseTo(40, 9);
    const spread = Math.sqrt((deltaE2000(middle, straw) ** 2 + deltaE2000(middle, blue) ** 2) / 2);
    expect(point.spreadDeltaE).toBeCloseTo(spread, 9);
    expect(point.flags.join()).not.toMatch(/single/);
  });

  it('a trial without a thickness or a colour does not count as one of nothing', () => {
    const bare: ProcessTrial = { ...at, outcome: 'interference' };
    const measured: ProcessTrial = { ...bare, lab: blue, thicknessNm: 50 };
    expect(processMap({ trials: [bare, measured, bare], at })).toMatchObject({
      lab: blue,
      spreadDeltaE: null,
      thicknessNm: 50,
    });
    expect(processMap({ trials: [bare], at })).toMatchObject({
      lab: null,
      spreadDeltaE: null,
      thicknessNm: null,
    });
  });

  it('of two outcomes as likely it claims the less', () => {
    const trials: ProcessTrial[] = [
      { ...at, outcome: 'dark' },
      { ...at, outcome: 'none' },
    ];
    const { class: found, flags } = processMap({ trials, at });
    expect(found).toBe('none');
    expect(flags.join()).toMatch(/disagree/);
  });

  it('nearer trials count for more', () => {
    const trials: ProcessTrial[] = [
      { ...at, temperatureC: 48, outcome: 'interference', lab: straw },
      { ...at, temperatureC: 60, outcome: 'interference', lab: blue },
    ];
    const near = processMap({ trials, at });
    expect(deltaE2000(near.lab ?? blue, straw)).toBeLessThan(deltaE2000(near.lab ?? straw, blue));
    expect(near.nearest).toEqual({ index: 0, distance: expect.closeTo(0.2, 9) as number });
  });

  it('twice the time, 10 °C, 0.4 V and 5 % of strength lie equally far', () => {
    const trials: ProcessTrial[] = [{ ...at, outcome: 'dark' }];
    for (const change of [
      { timeS: 480 },
      { timeS: 120 },
      { temperatureC: 60 },
      { voltageV: 1.85 },
      { massFraction: 0.55 },
    ]) {
      expect(processMap({ trials, at: { ...at, ...change } }).nearest?.distance).toBeCloseTo(1, 9);
    }
  });

  it('nothing tried is untested', () => {
    expect(processMap({ trials: [], at })).toMatchObject({ class: 'untested', nearest: null, support: 0 });
  });

  it('probabilities are probabilities, and a setting that was tried is never untested', () => {
    const anyTrial: fc.Arbitrary<ProcessTrial> = fc.record({
      temperatureC: fc.double({ min: 20, max: 100, noNaN: true }),
      voltageV: fc.double({ min: 1, max: 4, noNaN: true }),
      timeS: fc.double({ min: 30, max: 3600, noNaN: true }),
      massFraction: fc.double({ min: 0.4, max: 0.55, noNaN: true }),
      outcome: fc.constantFrom<TrialOutcome>('none', 'interference', 'dark'),
    });
    fc.assert(
      fc.property(fc.array(anyTrial, { minLength: 1, maxLength: 20 }), (trials) => {
        for (const trial of trials) {
          const { class: found, probabilities, nearest } = processMap({ trials, at: trial });
          expect(found).not.toBe('untested');
          expect(nearest?.distance).toBe(0);
          const values = Object.values(probabilities ?? {});
          expect(values.reduce((total, value) => total + value, 0)).toBeCloseTo(1, 9);
          expect(Math.min(...values)).toBeGreaterThan(0);
          expect(probabilities?.[found as TrialOutcome]).toBe(Math.max(...values));
        }
      }),
    );
  });

  it('learns a known law from noisy trials: 90 of 100 new settings rightly called', () => {
    const random = seeded(21);
    const law = (temperatureC: number): TrialOutcome =>
      temperatureC < 40 ? 'none' : temperatureC < 78 ? 'interference' : 'dark';
    const setting = () => ({
      temperatureC: random.uniform(25, 95),
      voltageV: random.uniform(1.8, 2.7),
      timeS: 60 * 2 ** random.uniform(0, 3),
      massFraction: 0.5,
    });
    const trials = Array.from({ length: 150 }, () => {
      const tried = setting();
      return { ...tried, outcome: law(tried.temperatureC + 2 * random.normal()) };
    });
    const calls = Array.from({ length: 100 }, () => {
      const asked = setting();
      return processMap({ trials, at: asked }).class === law(asked.temperatureC);
    });
    expect(calls.filter(Boolean).length).toBeGreaterThanOrEqual(90);
  });

  it.each([
    [{ trials: [{ ...at, outcome: 'brown' as 'dark' }] }, 'trials[0].outcome', 'unknown'],
    [{ trials: [{ ...at, outcome: 'dark' as const, timeS: 0 }] }, 'trials[0].timeS', 'out-of-range'],
    [
      { trials: [{ ...at, outcome: 'dark' as const, massFraction: 50 }] },
      'trials[0].massFraction',
      'out-of-range',
    ],
    [
      { trials: [{ ...at, outcome: 'dark' as const, lab: { L: NaN, a: 0, b: 0 } }] },
      'trials[0].lab.L',
      'not-finite',
    ],
    [
      { trials: [{ ...at, outcome: 'dark' as const, thicknessNm: -1 }] },
      'trials[0].thicknessNm',
      'out-of-range',
    ],
    [{ at: { ...at, temperatureC: NaN } }, 'at.temperatureC', 'not-finite'],
    [{ at: { ...at, temperatureC: -21 } }, 'at.temperatureC', 'out-of-range'],
    [{ at: { ...at, temperatureC: 301 } }, 'at.temperatureC', 'out-of-range'],
    [{ at: { ...at, voltageV: -1 } }, 'at.voltageV', 'out-of-range'],
  ])('refuses %o', (change, argument, code) => {
    expect(() => processMap({ trials: [], at, ...change })).toThrow(
      expect.objectContaining({ argument, code }),
    );
  });
});

describe('withdrawalTrials', () => {
  const setting = { temperatureC: 50, voltageV: 2.25, massFraction: 0.5 };
  const strip = {
    setting,
    intervalS: 60,
    stepMm: 10,
    bands: [
      { outcome: 'none' as const },
      { outcome: 'interference' as const, lab: straw },
      null,
      { outcome: 'interference' as const, lab: blue, thicknessNm: 52 },
    ],
  };

  it('is one trial a readable band, each an interval longer than the one before', () => {
    expect(withdrawalTrials(strip)).toEqual([
      { ...setting, timeS: 60, outcome: 'none', fromMm: 0, toMm: 10 },
      { ...setting, timeS: 120, outcome: 'interference', lab: straw, fromMm: 10, toMm: 20 },
      { ...setting, timeS: 240, outcome: 'interference', lab: blue, thicknessNm: 52, fromMm: 30, toMm: 40 },
    ]);
  });

  it('feeds a map: early is nothing, later is colour', () => {
    const trials = withdrawalTrials(strip);
    expect(processMap({ trials, at: { ...setting, timeS: 50 } }).class).toBe('none');
    const late = processMap({ trials, at: { ...setting, timeS: 240 } });
    expect(late.class).toBe('interference');
    expect(late.lab?.b).toBeLessThan(0);
  });

  it.each([
    [{ bands: [] }, 'bands', 'malformed'],
    [{ intervalS: 0 }, 'intervalS', 'out-of-range'],
    [{ stepMm: NaN }, 'stepMm', 'not-finite'],
    [{ stepMm: 0 }, 'stepMm', 'out-of-range'],
    [{ stepMm: 10_001 }, 'stepMm', 'out-of-range'],
    [{ bands: [null, { outcome: 'grey' as 'dark' }] }, 'bands[1].outcome', 'unknown'],
    [{ setting: { ...setting, massFraction: 50 } }, 'bands[0].massFraction', 'out-of-range'],
  ])('refuses %o', (change, argument, code) => {
    expect(() => withdrawalTrials({ ...strip, ...change })).toThrow(
      expect.objectContaining({ argument, code }),
    );
  });
});

describe('faults and other families', () => {
  const powdery: ProcessTrial = { ...at, outcome: 'powdery', lab: blue };
  const good: ProcessTrial = { ...at, outcome: 'interference', lab: straw };

  it('a fault is tested ground, and its colour is none', () => {
    const point = processMap({ trials: [powdery, powdery], at });
    expect(point).toMatchObject({ class: 'powdery', lab: null, spreadDeltaE: null });
  });

  it('a fault beside it neither tints a colour nor leaves it as sure', () => {
    const alone = processMap({ trials: [good, good], at });
    const beside = processMap({ trials: [good, good, powdery], at });
    expect(beside).toMatchObject({ class: 'interference', lab: straw });
    expect(beside.probabilities?.interference).toBeLessThan(alone.probabilities?.interference ?? 0);
    expect(Object.values(beside.probabilities ?? {}).reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9);
  });

  it('of a fault and a colour as likely it claims the fault', () => {
    expect(processMap({ trials: [good, powdery], at }).class).toBe('powdery');
  });

  it('outcomes that no trial showed leave the odds of the others as they were', () => {
    const { probabilities } = processMap({ trials: [good], at });
    expect(Object.keys(probabilities ?? {})).toEqual(['none', 'interference', 'dark']);
  });

  const dye = { temperatureC: 55, timeS: 480, massFraction: 0.5, coatingThicknessUm: 12, pH: 5.5 };
  it('a dye has a map without a voltage, by its coating and pH', () => {
    const trials: ProcessTrial[] = [
      { ...dye, outcome: 'dyed', lab: blue },
      { ...dye, coatingThicknessUm: 2, outcome: 'none' },
    ];
    expect(processMap({ trials, at: dye })).toMatchObject({ class: 'dyed', lab: blue });
    expect(processMap({ trials, at: { ...dye, coatingThicknessUm: 3 } }).class).toBe('none');
    for (const change of [{ coatingThicknessUm: 17 }, { pH: 6 }])
      expect(
        processMap({ trials: trials.slice(0, 1), at: { ...dye, ...change } }).nearest?.distance,
      ).toBeCloseTo(1, 9);
  });

  it('a trial that does not state what is asked says nothing of it', () => {
    const unread = { ...dye, pH: undefined };
    const trials: ProcessTrial[] = [{ ...unread, outcome: 'dyed' }];
    expect(processMap({ trials, at: dye })).toMatchObject({ class: 'untested', nearest: null });
    expect(processMap({ trials, at: unread }).class).toBe('dyed');
    expect(processMap({ trials, at: { ...dye, voltageV: 2 } }).class).toBe('untested');
  });

  it.each([
    [{ pH: 15 }, 'at.pH'],
    [{ coatingThicknessUm: 1001 }, 'at.coatingThicknessUm'],
  ])('refuses %o', (change, argument) => {
    expect(() => processMap({ trials: [], at: { ...dye, ...change } })).toThrow(
      expect.objectContaining({ argument, code: 'out-of-range' }),
    );
  });
});
