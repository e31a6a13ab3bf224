import { describe, expect, it } from 'vitest';
import {
  controlChart,
  controlLimits,
  movingRanges,
  nextSignal,
  provisionalBaseline,
  runsBetween,
  indexRangeBetween,
} from './control.ts';

/** Flow rate of ten batches: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2. */
const values = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
const oneFill = values.map(() => 0);
const all = { from: 0, to: 9 };

const limitsOf = (series: Parameters<typeof controlLimits>[0], stretch = all) => {
  const found = controlLimits(series, stretch);
  if ('fault' in found) throw new Error(found.fault);
  return found.limits;
};

describe('control limits', () => {
  it('are those the handbook prints', () => {
    const limits = limitsOf({ values, run: oneFill });
    expect(limits.centre).toBeCloseTo(50.81, 8);
    expect(limits.upper).toBeCloseTo(55.8041, 4);
    expect(limits.lower).toBeCloseTo(45.8159, 4);
  });

  it('come from the baseline alone', () => {
    const longer = { values: [10, 10, ...values, 90], run: [0, 0, ...oneFill, 0] };
    expect(limitsOf(longer, { from: 2, to: 11 })).toEqual(limitsOf({ values, run: oneFill }));
  });

  it('take no range across a new fill', () => {
    const series = { values: [50, 51, 80, 81], run: [0, 0, 1, 1] };
    expect(limitsOf(series, { from: 0, to: 3 }).rangeMean).toBe(1);
    expect(movingRanges(series)).toEqual([null, 1, null, 1]);
  });

  it('say why there are none', () => {
    const faultOf = (...input: Parameters<typeof controlLimits>) => {
      const found = controlLimits(...input);
      return 'fault' in found ? found.fault : '';
    };
    expect(faultOf({ values: [5, 5, 5], run: [0, 0, 0] }, { from: 0, to: 2 })).toMatch(/no scatter/);
    expect(faultOf({ values: [5, 6], run: [0, 1] }, { from: 0, to: 1 })).toMatch(/nothing done to the bath/);
  });
});

describe('the provisional baseline', () => {
  it('is the beginning of the latest fill that has more than one result', () =>
    expect(provisionalBaseline([0, 0, 1, 1, 1, 2])).toEqual({ from: 2, to: 4 }));
  it('has at most 25 results', () =>
    expect(provisionalBaseline(Array<number>(80).fill(0))).toEqual({
      from: 0,
      to: 24,
    }));
  it('is none while every fill has one', () => expect(provisionalBaseline([0, 1])).toBeNull());
});

describe('what the charts flag', () => {
  const limits = { centre: 50, sigma: 1, lower: 47, upper: 53, rangeMean: 1.128, rangeUpper: 3.685 };
  const series = { values: [50, 54, 50.5, 49.5, 50], run: [0, 0, 0, 0, 0] };
  const rulesAt = (place: number, chart: ReturnType<typeof controlChart>) =>
    (chart.signals.get(place) ?? []).map(({ rule }) => rule);

  it('names the rule by its source', () => {
    const nelson = controlChart(series, { limits, kind: 'individuals', rules: 'nelson' });
    expect(rulesAt(1, nelson)).toEqual(['N1']);
    expect(nelson.signals.size).toBe(1);
    const western = controlChart(series, { limits, kind: 'individuals', rules: 'western-electric' });
    expect(rulesAt(1, western)).toEqual(['W1']);
  });

  it('sees a small lasting shift by average and by sum, which single results do not show', () => {
    const shifted = { values: Array<number>(30).fill(51.2), run: Array<number>(30).fill(0) };
    const flagged = (kind: 'ewma' | 'cusum') => controlChart(shifted, { limits, kind, rules: 'nelson' });
    // The average settles at the shift, 1.2, its limits at 3 sqrt(0.2 / 1.8) = 1: NIST 6.3.2.4.
    expect(flagged('ewma').signals.size).toBeGreaterThan(0);
    // Each result adds 0.7, so that the eighth is the first above 5: NIST 6.3.2.3.
    expect([...flagged('cusum').signals.keys()][0]).toBe(7);
  });

  it('begins its sums anew with a new fill', () => {
    const halves = { values: Array<number>(10).fill(51.2), run: [0, 0, 0, 0, 0, 1, 1, 1, 1, 1] };
    expect(controlChart(halves, { limits, kind: 'cusum', rules: 'nelson' }).signals.size).toBe(0);
  });
});

it('finds the flagged point next to another', () => {
  const signals = new Map([9, 3, 20].map((place) => [place, []]));
  expect(nextSignal(signals, 3, 1)).toBe(9);
  expect(nextSignal(signals, 9, -1)).toBe(3);
  expect(nextSignal(signals, 20, 1)).toBeNull();
});

it('finds the places between two instants', () => {
  expect(indexRangeBetween([10, 20, 30, 40], 15, 30)).toEqual({ from: 1, to: 2 });
  expect(indexRangeBetween([10, 20, 30], 21, 29)).toBeNull();
  expect(indexRangeBetween([], 0, 9)).toBeNull();
});

it('ends a run with a fill and with what was done on purpose', () => {
  const given = { atMs: [1, 2, 3, 4, 5], fill: [0, 0, 0, 0, 1] };
  expect(runsBetween({ ...given, changesAtMs: [] })).toEqual([0, 0, 0, 0, 1]);
  expect(runsBetween({ ...given, changesAtMs: [0.5, 2.2, 2.4, 4] })).toEqual([0, 0, 1, 2, 3]);
  expect(runsBetween({ ...given, changesAtMs: [9] })).toEqual([0, 0, 0, 0, 1]);
});
