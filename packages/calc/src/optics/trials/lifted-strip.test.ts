import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { liftedBandTimes } from './lifted-strip.ts';
import { processMap } from './process-map.ts';
import { withdrawalTrials } from './withdrawal-trials.ts';

describe('liftedBandTimes', () => {
  it('is the time of each lift, and of the rest', () => {
    expect(liftedBandTimes({ liftsS: [60, 125], outS: 180, pauses: [] })).toEqual([60, 125, 180]);
    expect(liftedBandTimes({ liftsS: [], outS: 90, pauses: [] })).toEqual([90]);
  });

  it('leaves out what the supply was off, for the bands that were still in', () => {
    const pauses = [
      { fromS: 70, toS: 90 },
      { fromS: 100, toS: 105 },
    ];
    expect(liftedBandTimes({ liftsS: [60, 120], outS: 180, pauses })).toEqual([60, 95, 155]);
    // A pause that a lift falls into counts for that band until the lift.
    expect(liftedBandTimes({ liftsS: [80], outS: 180, pauses })).toEqual([70, 155]);
  });

  it('a later band is never under voltage shorter than an earlier one', () => {
    const gaps = fc.array(fc.double({ min: 0.5, max: 100, noNaN: true }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(gaps, fc.double({ min: 0.1, max: 50, noNaN: true }), (each, pauseS) => {
        let at = 0;
        const left = each.map((gap) => (at += gap + pauseS));
        const pauses = each.map((_, index) => {
          const fromS = index === 0 ? 0 : (left[index - 1] ?? 0);
          return { fromS, toS: fromS + pauseS };
        });
        const times = liftedBandTimes({ liftsS: left.slice(0, -1), outS: left.at(-1) ?? 0, pauses });
        times.forEach((time, index) => expect(time).toBeGreaterThan(times[index - 1] ?? 0));
        expect(times.at(-1)).toBeCloseTo(
          each.reduce((sum, gap) => sum + gap, 0),
          6,
        );
      }),
    );
  });

  it('makes trials that a map takes, with the times that really were', () => {
    const timesS = liftedBandTimes({ liftsS: [60, 130], outS: 240, pauses: [] });
    const setting = { temperatureC: 50, voltageV: 2.2, massFraction: 0.5 };
    const bands = [{ outcome: 'none' as const }, null, { outcome: 'interference' as const }];
    const trials = withdrawalTrials({ setting, timesS, stepMm: 10, bands });
    expect(trials.map(({ timeS, fromMm }) => [timeS, fromMm])).toEqual([
      [60, 0],
      [240, 20],
    ]);
    expect(processMap({ trials, at: { ...setting, timeS: 240 } }).class).toBe('interference');
    expect(() => withdrawalTrials({ setting, timesS: [60], stepMm: 10, bands })).toThrow(
      expect.objectContaining({ argument: 'timesS', code: 'malformed' }),
    );
  });

  it.each([
    [{ liftsS: [60, 60] }, 'liftsS[1]', 'out-of-range'],
    [{ liftsS: [NaN] }, 'liftsS[0]', 'not-finite'],
    [{ outS: 59, liftsS: [60] }, 'outS', 'out-of-range'],
    [{ pauses: [{ fromS: 10, toS: 5 }] }, 'pauses[0].toS', 'out-of-range'],
    [
      {
        pauses: [
          { fromS: 10, toS: 20 },
          { fromS: 15, toS: 30 },
        ],
      },
      'pauses[1].fromS',
      'out-of-range',
    ],
    [{ pauses: [{ fromS: 0, toS: 300 }] }, 'bands[0]', 'out-of-range'],
  ])('refuses %o', (change, argument, code) => {
    expect(() => liftedBandTimes({ liftsS: [60], outS: 240, pauses: [], ...change })).toThrow(
      expect.objectContaining({ argument, code }),
    );
  });
});
