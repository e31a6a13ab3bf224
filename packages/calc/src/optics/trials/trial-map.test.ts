import { Matrix, inverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../reference/optics/seeded.ts';
import { boxShare } from './box-share.ts';
import { nextTrial } from './next-trial.ts';
import { outcomeBeliefs } from './outcome-belief.ts';
import { mappedTrials, type MapTrial, trialMap } from './trial-map.ts';

const fixed = { timeS: 300, strength: 50 };
const trial = (temperatureC: number, voltageV: number, extra: Partial<MapTrial> = {}): MapTrial => ({
  ...{ temperatureC, voltageV, ...fixed },
  outcome: temperatureC < 42 || voltageV < 1.5 ? 'none' : temperatureC > 75 ? 'dark' : 'interference',
  ...extra,
});
/** A steel tried at one strength and one time: 38 coupons from 30 to 90 °C and 1.2 to 2.6 V. */
const random = seeded(38);
const oneStrength = Array.from({ length: 38 }, () => trial(random.uniform(30, 90), random.uniform(1.2, 2.6)));
const at = (temperatureC: number, voltageV: number) => ({ temperatureC, voltageV, ...fixed });

describe('the map of trials', () => {
  it('is drawn from 38 coupons of one strength and one time, which gave nothing but “untested”', () => {
    const map = trialMap({ trials: oneStrength, target: 50 });
    const places = [30, 40, 50, 60, 70, 80, 90].flatMap((temperatureC) =>
      [1.2, 1.6, 2, 2.4].map((voltageV) => ({ temperatureC, voltageV })),
    );
    const classes = places.map(({ temperatureC, voltageV }) => map.at(at(temperatureC, voltageV)).class);
    const isUntold = (found: string | undefined) => found === 'untested' || found === 'unsettled';
    const untold = classes.filter(isUntold);
    expect(untold.length).toBeLessThan(places.length / 3);
    for (const [index, { temperatureC, voltageV }] of places.entries()) {
      // Within a step of a border a coupon may be on either side.
      const clear =
        Math.abs(temperatureC - 42) > 6 && Math.abs(temperatureC - 75) > 6 && Math.abs(voltageV - 1.5) > 0.2;
      if (clear && !isUntold(classes[index]))
        expect(classes[index], `${temperatureC} °C, ${voltageV} V`).toBe(
          trial(temperatureC, voltageV).outcome,
        );
    }
  });

  it('says nothing away from all trials, and at another time or strength', () => {
    const map = trialMap({ trials: oneStrength, target: 50 });
    for (const change of [{ temperatureC: 140 }, { voltageV: 5 }, { timeS: 3600 }, { strength: 35 }])
      expect(map.at({ ...at(55, 2), ...change }).class).toBe('untested');
  });

  it('is never surer than coupons are, and its probabilities sum to 1', () => {
    const same = Array.from({ length: 30 }, () => trial(55, 2));
    const { probabilities } = trialMap({ trials: same, target: 50 }).at(at(55, 2));
    expect(probabilities.interference).toBeLessThan(0.95);
    expect(Object.values(probabilities).reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 12);
  });

  it('tells colour, current and protection of the trials around, and no colour of a fault', () => {
    const blue = { L: 40, a: 5, b: -35 };
    const figures = { lab: blue, currentDensityAPerM2: 120, protects: true };
    const trials = [trial(55, 2, figures), trial(56, 2, { ...figures, protects: false }), trial(57, 2)];
    const told = trialMap({ trials, target: 50 }).at(at(56, 2));
    expect(told).toMatchObject({ class: 'interference', lab: blue, spreadDeltaE: 0 });
    expect(told.currentDensityAPerM2).toBeCloseTo(120, 10);
    expect(told.thickness).toBeNull();
    expect(told.protects).toBeCloseTo(0.5, 1);
    const powdery = trials.map((one) => ({ ...one, outcome: 'powdery' as const }));
    expect(trialMap({ trials: powdery, target: 50 }).at(at(56, 2))).toMatchObject({
      class: 'powdery',
      lab: null,
    });
  });

  it('tells the thickness of the films around that were measured, and how far they differ', () => {
    const measured = (temperatureC: number, thicknessNm: number) =>
      trial(temperatureC, 2, { thickness: { thicknessNm, standardUncertaintyNm: 6 } });
    const alone = trialMap({ trials: [measured(55, 80), trial(57, 2)], target: 50 }).at(at(56, 2)).thickness;
    expect(alone).toEqual({
      thicknessNm: expect.closeTo(80, 10) as number,
      standardUncertaintyNm: expect.closeTo(6, 10) as number,
      measured: 1,
    });
    // Two at the same distance: their mean, 6/√2 of their own and 10 between them.
    const two = trialMap({ trials: [measured(55, 80), measured(57, 100)], target: 50 }).at(
      at(56, 2),
    ).thickness;
    expect(two?.thicknessNm).toBeCloseTo(90, 10);
    expect(two?.standardUncertaintyNm).toBeCloseTo(Math.hypot(6 / Math.SQRT2, 10), 10);
    // Where nobody measured nearby, nothing is said.
    expect(
      trialMap({ trials: [measured(55, 80), trial(80, 2)], target: 50 }).at(at(80, 2)).thickness,
    ).toBeNull();
  });

  it('draws no picture of nothing, and refuses a figure that is none, naming its trial', () => {
    expect(trialMap({ trials: [], target: 50 }).at(at(55, 2))).toMatchObject({
      class: 'untested',
      nearest: null,
    });
    expect(() => trialMap({ trials: [trial(55, 2), trial(Number.NaN, 2)], target: 50 })).toThrow('trials[1]');
    expect(() => trialMap({ trials: [trial(55, 2, { currentDensityAPerM2: -1 })], target: 50 })).toThrow(
      'trials[0].currentDensityAPerM2',
    );
    expect(() => trialMap({ trials: Array.from({ length: 501 }, () => trial(55, 2)), target: 50 })).toThrow(
      '500',
    );
  });
});

describe('the Gaussian process under it', () => {
  it('is the textbook one: k (K + n²)⁻¹ y and 1 - k (K + n²)⁻¹ k, by another library', () => {
    const { trials } = mappedTrials({ trials: oneStrength.slice(0, 12), target: 50 });
    const { outcomes, leaningsAt } = outcomeBeliefs(trials);
    const place = { temperatureC: 58, voltageV: 1.9, timeS: 300, massFraction: 0.5 };
    const kernel = (one: typeof place, other: typeof place) =>
      Math.exp(
        -(
          ((one.temperatureC - other.temperatureC) / 10) ** 2 +
          ((one.voltageV - other.voltageV) / 0.4) ** 2
        ) /
          (2 * 0.85 ** 2),
      );
    const setting = trials.map(({ temperatureC, voltageV = 0, timeS, massFraction }) => ({
      ...{ temperatureC, voltageV, timeS, massFraction },
    }));
    const inverted = inverse(
      new Matrix(
        setting.map((one, i) => setting.map((other, j) => kernel(one, other) + (i === j ? 0.04 : 0))),
      ),
    );
    const k = Matrix.rowVector(setting.map((one) => kernel(one, place)));
    const labels = Matrix.columnVector(trials.map(({ outcome }) => (outcome === 'interference' ? 1 : -1)));
    const leaning = leaningsAt(place)[outcomes.indexOf('interference')];
    expect(leaning?.mean).toBeCloseTo(k.mmul(inverted).mmul(labels).get(0, 0), 10);
    expect(leaning?.deviation).toBeCloseTo(Math.sqrt(1 - k.mmul(inverted).mmul(k.transpose()).get(0, 0)), 10);
  });
});

describe('the share of a box, and the next trial in it', () => {
  const box = { temperatureC: { low: 45, high: 60 }, voltageV: { low: 1.7, high: 2.3 }, ...fixed };
  const settled = [46, 50, 55, 59].flatMap((temperatureC) =>
    [1.75, 2, 2.25].map((voltageV) => trial(temperatureC, voltageV)),
  );

  it('is all wanted where trials cover it, all other for another wish, all unsettled without trials', () => {
    expect(boxShare({ trials: settled, target: 50, box, wanted: 'interference' }).wanted).toBe(1);
    expect(boxShare({ trials: settled, target: 50, box, wanted: 'dyed' }).other).toBe(1);
    expect(boxShare({ trials: [], target: 50, box, wanted: 'interference' }).unsettled).toBe(1);
  });

  it('a slipped decimal puts the box beside all trials: nothing of it is claimed', () => {
    const slipped = { ...box, voltageV: { low: 17, high: 23 } };
    expect(boxShare({ trials: settled, target: 50, box: slipped, wanted: 'interference' }).unsettled).toBe(1);
  });

  it('is proposed between what gave nothing and what gave colour, inside the box, in steps that a shop can set', () => {
    const wide = { ...box, temperatureC: { low: 30, high: 60 } };
    const trials = [trial(30, 2), trial(60, 2), ...[1.7, 2.3].map((voltageV) => trial(58, voltageV))];
    const next = nextTrial({ trials, target: 50, box: wide, wanted: 'interference' });
    expect(next.setting.temperatureC).toBeGreaterThan(35);
    expect(next.setting.temperatureC).toBeLessThan(55);
    expect(next.setting.temperatureC % 1).toBe(0);
    expect(next.expected.unsettled).toBeLessThan(next.now.unsettled);
  });

  it('is never outside of the box, also where its ends are no round figures', () => {
    const odd = { ...box, temperatureC: { low: 45.3, high: 45.6 }, voltageV: { low: 1.71, high: 1.74 } };
    const { setting } = nextTrial({ trials: [], target: 50, box: odd, wanted: 'interference' });
    expect(setting.temperatureC).toBeGreaterThanOrEqual(45.3);
    expect(setting.temperatureC).toBeLessThanOrEqual(45.6);
    expect(setting.voltageV).toBeGreaterThanOrEqual(1.71);
    expect(setting.voltageV).toBeLessThanOrEqual(1.74);
  });

  it('only confirms where all is told', () => {
    expect(nextTrial({ trials: settled, target: 50, box, wanted: 'interference' }).reason).toBe('confirm');
  });

  it('refuses a range upside down and an outcome that is none', () => {
    const turned = { ...box, voltageV: { low: 2.3, high: 1.7 } };
    expect(() => boxShare({ trials: settled, target: 50, box: turned, wanted: 'interference' })).toThrow(
      'box.voltageV.high',
    );
    expect(() => boxShare({ trials: settled, target: 50, box, wanted: 'gold' as 'dark' })).toThrow('wanted');
  });
});
