import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { intervalSurvival } from './interval-survival.ts';

/**
 * Months to breast retraction of 46 women after radiotherapy alone: Finkelstein and Wolfe, Biometrics 41 (1985) 933, the
 * example that interval-censored estimates are shown on. Data and published shares from memory; they hold each other up.
 */
const radiotherapy: [number, number | null][] = [
  ...[
    [0, 7],
    [0, 8],
    [0, 5],
    [4, 11],
    [5, 12],
    [5, 11],
    [6, 10],
    [7, 16],
    [7, 14],
    [11, 15],
  ],
  ...[
    [11, 18],
    [17, 25],
    [17, 25],
    [19, 35],
    [19, 26],
    [25, 37],
    [26, 40],
    [27, 34],
    [36, 44],
    [36, 48],
  ],
  ...[[37, 44]],
  ...[15, 17, 18, 22, 24, 24, 32, 33, 34, 36, 36, 37, 37, 37, 38, 40, 45].map((last) => [last, null]),
  ...Array.from({ length: 8 }, () => [46, null]),
] as [number, number | null][];
const published = [
  ...[
    [4, 5, 0.0463],
    [6, 7, 0.0334],
    [7, 8, 0.0887],
    [11, 12, 0.0708],
    [24, 25, 0.0926],
    [33, 34, 0.0818],
  ],
  ...[
    [38, 40, 0.1209],
    [46, 48, 0.4656],
  ],
] as const;

/** Weeks of remission under 6-mercaptopurine: Gehan, Biometrika 52 (1965) 203; a minus is a patient still in remission. */
const remission = [
  ...[6, 6, 6, -6, 7, -9, 10, -10, -11, 13, 16, -17, -19, -20, 22, 23, -25, -32, -32, -34, -35],
];

describe('surviving share between looks', () => {
  it('is the published estimate of interval-censored times', () => {
    expect(radiotherapy).toHaveLength(46);
    const steps = intervalSurvival({ spans: radiotherapy.map(([afterH, byH]) => ({ afterH, byH })) });
    expect(
      steps.map(({ afterH, byH, probability }) => [afterH, byH, Number(probability.toFixed(4))]),
    ).toEqual(published.map((step) => [...step]));
  });

  it('is Kaplan and Meier of exact times: 0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448', () => {
    const spans = remission.map((week) =>
      week < 0 ? { afterH: -week, byH: null } : { afterH: week - 1e-6, byH: week },
    );
    const steps = intervalSurvival({ spans });
    expect(steps.slice(0, 7).map(({ survivingShare }) => survivingShare.toFixed(3))).toEqual([
      ...['0.857', '0.807', '0.753', '0.690', '0.627', '0.538', '0.448'],
    ]);
    expect(steps.at(-1)).toMatchObject({ byH: null, survivingShare: 0 });
  });

  it('is refused for no specimen, and for one that corroded before it was last seen clear', () => {
    expect(() => intervalSurvival({ spans: [] })).toThrow('spans');
    expect(() => intervalSurvival({ spans: [{ afterH: 48, byH: 24 }] })).toThrow('after 48 h');
  });

  it('of any specimens hands out one whole, and falls', () => {
    const span = fc
      .tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 1, max: 9 }), fc.boolean())
      .map(([day, wait, seen]) => ({ afterH: day * 24, byH: seen ? (day + wait) * 24 : null }));
    fc.assert(
      fc.property(fc.array(span, { minLength: 1, maxLength: 12 }), (spans) => {
        const steps = intervalSurvival({ spans });
        expect(steps.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 4);
        const shares = steps.map(({ survivingShare }) => survivingShare);
        expect(shares).toEqual(shares.toSorted((one, other) => other - one));
      }),
      { numRuns: 60 },
    );
  });
});
