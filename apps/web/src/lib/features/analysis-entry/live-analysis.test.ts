import { describe, expect, it } from 'vitest';
import { liveAnalysis } from './live-analysis.ts';
import { blankReadings, filledIn, wholeReadings, type TypedOf } from './typed-readings.ts';

const settings = {
  titrant: { reagent: 'HCl' as const, nominalEqPerLitre: 0.5 },
  sample: { basis: 'volume' as const, amount: 5, dilution: { madeUpToMl: 250, takenMl: 25 } },
  solute: null,
  secondReading: 'from-zero' as const,
  aluminium: null,
  procedure: null,
  scale: null,
  indicators: ['phenolphthalein', 'methyl orange'],
  uncertainty: { readingMl: 0.03, sampleRelative: 0.006, reading: 0 },
  replicates: 2,
  spreadLimit: 0.02,
};
const potash = {
  key: 'KOH',
  name: 'KOH',
  unit: 'massFraction' as const,
  referenceTemperatureC: null,
  target: 0.5,
  low: 0.47,
  high: 0.52,
  stopLow: 0.45,
  stopHigh: 0.55,
};
const method = {
  ...settings,
  titrant: { eqPerLitre: 0.5, standardUncertaintyEqPerLitre: 0.0005 },
  replicates: 1,
};
const blank = () =>
  blankReadings(
    { kind: 'caustic-two-end-points', settings },
    { solute: 'KOH', components: [potash] },
  ) as TypedOf<'caustic-two-end-points'>;
const flask = (firstEndPointMl: number, secondEndPointMl: number) => ({
  amount: 5,
  firstEndPointMl,
  secondEndPointMl,
});

describe('an analysis while it is typed', () => {
  it('waits until a flask is whole, and leaves flasks out that nobody filled', () => {
    const readings = blank();
    expect(liveAnalysis({ readings, method, setup: null, latest: [], background: null })).toEqual({
      state: 'incomplete',
    });
    readings.replicates[0] = flask(13.6, 13.95);
    expect(readings.replicates).toHaveLength(2);
    expect(filledIn(readings)).toHaveProperty('replicates.length', 1);
    expect(wholeReadings(readings)).toHaveProperty('replicates', [flask(13.6, 13.95)]);
  });

  it('says 743.4 g/L and 48.4 wt% KOH for two end points of a caustic bath (worked example of Warder, 13.60 and 13.95 mL)', () => {
    const readings = { ...blank(), replicates: [flask(13.6, 13.95)] };
    const live = liveAnalysis({
      readings,
      method,
      setup: { components: [potash] },
      latest: [],
      background: null,
    });
    const [found] = live.state === 'known' ? live.results : [];
    expect(found).toMatchObject({ component: 'KOH', unit: 'massFraction', state: 'in-range' });
    expect(found?.value).toBeCloseTo(0.484, 3);
    expect(found?.gramsPerLitre).toBeCloseTo(743.4, 1);
  });

  it('said nothing at all of a negative reading, and little of one that leaves no bath', () => {
    const say = (first: number, second: number) =>
      liveAnalysis({
        readings: { ...blank(), replicates: [flask(first, second)] },
        method,
        setup: null,
        latest: [],
        background: null,
      });
    expect(say(-13.6, 13.95)).toEqual({
      state: 'impossible',
      path: 'readings.replicates.0.firstEndPointMl',
      words: 'it must be at least 0',
    });
    expect(say(140, 145)).toMatchObject({
      state: 'impossible',
      words: expect.stringMatching(
        /^a bath with \d+.* of solutes cannot be: it takes burette readings, titrant and amount of sample that fit/,
      ) as string,
    });
  });

  it('questions a second end point below the first, in its field', () => {
    const readings = { ...blank(), replicates: [flask(13.6, 12.1)] };
    expect(liveAnalysis({ readings, method, setup: null, latest: [], background: null })).toMatchObject({
      state: 'impossible',
      path: 'readings.replicates.0.secondEndPointMl',
    });
  });

  it('asks about 7 wt% where 49.76 wt% stood, before anything is saved', () => {
    const readings = { ...blank(), replicates: [flask(1.4, 1.45)] };
    const previous = { component: 'KOH', unit: 'massFraction' as const, referenceTemperatureC: null };
    const live = liveAnalysis({
      readings,
      method,
      setup: { components: [potash] },
      latest: [],
      background: {
        side: 'alkali',
        watched: ['KOH'],
        previous: [
          {
            ...previous,
            value: 0.4976,
            standardUncertainty: 0.002,
            expected: null,
            isStrength: true,
            days: 0.01,
            carriedOutShare: 0,
          },
        ],
      },
    });
    expect(live.state === 'known' && live.questions.join()).toContain('has a decimal point slipped?');
  });
});
