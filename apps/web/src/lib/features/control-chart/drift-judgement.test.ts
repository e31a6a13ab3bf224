import { describe, expect, it } from 'vitest';
import { driftControlChart, driftOf, residualsOf } from './drift-judgement.ts';
import { driftPanel } from './drift-panel.ts';
import { workSince } from './work-since.ts';

const DAY = 86_400_000;
/** Two fills of ten weekly results that fall by a tenth each, with a scatter, and one result far off. */
const scatter = [0, 0.02, -0.03, 0.01, 0.02, -0.02, 0, 0.03, -0.01, -0.02];
const values = [...scatter, ...scatter].map((one, place) => 50 - 0.1 * (place % 10) + one);
const ODD = 17;
values[ODD] = 50.4;
const fills = values.map((_, place) => Math.floor(place / 10));
const points = {
  analysisId: values.map((_, place) => 100 + place),
  atMs: values.map((_, place) => place * 7 * DAY),
  value: values,
  standardUncertainty: values.map(() => 0),
  fill: fills,
};
const work = { analysisId: points.analysisId.slice(10), areaM2: Array<number>(10).fill(0) };
const found = (baseline: { from: number; to: number }, over = work) => {
  const drift = driftOf({ points, work: over, run: fills, baseline });
  if ('fault' in drift) throw new Error(drift.fault);
  return drift;
};

describe('what drift leads to expect', () => {
  const drift = found({ from: 10, to: 16 });

  it('is told of the fill whose work is known, and of no first result', () => {
    expect(drift.first).toBe(10);
    expect(drift.points.slice(0, 11)).toEqual(Array(11).fill(null));
    expect(drift.driftPerDay).toBeCloseTo(-0.1 / 7, 2);
    expect(drift.points[ODD]?.expected).toBeCloseTo(49.3, 1);
  });

  it('flags the odd result by its place in the whole chart, whatever the chart', () => {
    const flagged = (kind: 'individuals' | 'ewma' | 'cusum') => [
      ...driftControlChart(drift, { fills, kind, rules: 'nelson' }).signals.keys(),
    ];
    expect(flagged('individuals')).toContain(ODD);
    expect(flagged('ewma')).toContain(ODD);
    expect(flagged('cusum')).toContain(ODD);
    expect(flagged('individuals').every((place) => place >= ODD)).toBe(true);
  });

  it('draws the expected value beside the result, and averages and sums over the judged places only', () => {
    const panelOf = (kind: 'individuals' | 'ewma' | 'cusum') =>
      driftPanel({
        values,
        drift,
        chart: driftControlChart(drift, { fills, kind, rules: 'nelson' }),
        kind,
        setup: null,
      });
    const single = panelOf('individuals');
    expect(single.markerY).toBe(values);
    expect(single.series.map(({ key }) => key)).toEqual(['result', 'expected', 'upper', 'lower']);
    const average = panelOf('ewma');
    expect(average.series[0]?.y).toEqual(residualsOf(drift));
    for (const panel of [average, panelOf('cusum')])
      for (const { y } of panel.series) {
        expect(y).toHaveLength(values.length);
        expect(y.map((one) => one === null)).toEqual(drift.points.map((one) => one === null));
      }
  });

  it('is found anew with another baseline, also one before the latest fill once its work is known', () => {
    const all = { analysisId: points.analysisId, areaM2: Array<number>(20).fill(0) };
    expect(found({ from: 0, to: 9 }, all).points[ODD]?.expected).toBeCloseTo(49.3, 1);
    expect(driftOf({ points, work, run: fills, baseline: { from: 0, to: 9 } })).toEqual({
      fault: expect.stringMatching(/counted from a later day/) as string,
    });
    expect(driftOf({ points, work, run: fills, baseline: { from: 10, to: 11 } })).toEqual({
      fault: expect.stringMatching(/too few results/) as string,
    });
  });
});

describe('the work that is asked for', () => {
  it('starts with the latest fill of which two results can be compared', () => {
    expect(workSince({ points, baseline: null })).toBe(points.atMs[10]);
    const next = { atMs: [...points.atMs, 140 * DAY], fill: [...fills, 2] };
    expect(workSince({ points: next, baseline: null })).toBe(points.atMs[10]);
  });
  it('reaches back to a saved baseline', () =>
    expect(workSince({ points, baseline: { from: new Date(0).toISOString() } })).toBe(0));
  it('is all there is while no fill has two', () =>
    expect(workSince({ points: { atMs: [5, 9], fill: [0, 1] }, baseline: null })).toBe(5));
});
