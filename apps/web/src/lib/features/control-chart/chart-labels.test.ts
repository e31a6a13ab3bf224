import type { BathChart } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { doneBefore, patternWords, pointInWords } from './chart-labels.ts';

const chart = {
  points: {
    analysisId: [1, 2],
    atMs: [10, 20],
    value: [0.5, 0.48],
    standardUncertainty: [0, 0],
    fill: [0, 0],
  },
  fills: [{ bathId: 7, number: 'B-00007', madeUpAt: '2026-03-01T00:00:00Z', dumpedAt: null }],
  events: [
    { atMs: 10, kind: 'water', id: 1, number: 'X-00001', words: '3 L' },
    { atMs: 15, kind: 'chemical', id: 2, number: 'X-00002', words: '2 kg KOH' },
  ],
} as unknown as BathChart;
const signal = {
  rule: 'N5',
  place: 1,
  from: 0,
  meaning: '2 of 3 points beyond 2 sigma on the same side',
  source: 'Nelson',
} as const;
const text = (value: number) => `${value * 100} wt%`;
const when = (ms: number) => `minute ${ms}`;

it('says what a point is and which rule it breaks', () => {
  const words = { chart, place: 1, expected: null, text, when };
  expect(pointInWords({ ...words, signals: [signal] })).toBe(
    'Result 2 of 2: 48 wt%, minute 20, fill B-00007; Nelson test 5: 2 of 3 points beyond 2 sigma on the same side.',
  );
  expect(pointInWords({ ...words, signals: [] })).toMatch(/no rule broken\.$/);
  expect(pointInWords({ ...words, expected: 0.5, signals: [] })).toContain(
    '48 wt% (expected 50 wt%), minute 20',
  );
});

it('says from where on a pattern counts', () =>
  expect(patternWords(signal, when, chart.points.atMs)).toBe(
    '2 of 3 points beyond 2 sigma on the same side; from minute 10 on',
  ));

it('lists what was done after the result before', () =>
  expect(doneBefore(chart, 1).map(({ number }) => number)).toEqual(['X-00002']));
