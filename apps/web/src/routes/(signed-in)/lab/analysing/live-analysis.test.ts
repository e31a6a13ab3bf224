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
    expect(liveAnalysis({ readings, method, setup: null, latest: [] })).toEqual({ state: 'incomplete' });
    readings.replicates[0] = flask(13.6, 13.95);
    expect(readings.replicates).toHaveLength(2);
    expect(filledIn(readings)).toHaveProperty('replicates.length', 1);
    expect(wholeReadings(readings)).toHaveProperty('replicates', [flask(13.6, 13.95)]);
  });

  it('says 743.4 g/L and 48.4 wt% KOH for two end points of a caustic bath (worked example of Warder, 13.60 and 13.95 mL)', () => {
    const readings = { ...blank(), replicates: [flask(13.6, 13.95)] };
    const live = liveAnalysis({ readings, method, setup: { components: [potash] }, latest: [] });
    const [found] = live.state === 'known' ? live.results : [];
    expect(found).toMatchObject({ component: 'KOH', unit: 'massFraction', state: 'in-range' });
    expect(found?.value).toBeCloseTo(0.484, 3);
    expect(found?.gramsPerLitre).toBeCloseTo(743.4, 1);
  });

  it('questions a second end point below the first, in its field', () => {
    const readings = { ...blank(), replicates: [flask(13.6, 12.1)] };
    expect(liveAnalysis({ readings, method, setup: null, latest: [] })).toMatchObject({
      state: 'impossible',
      path: 'readings.replicates.0.secondEndPointMl',
    });
  });
});
