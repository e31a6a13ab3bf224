import type { BathChart } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { chartFile } from './chart-file.ts';

const chart = {
  component: 'KOH',
  components: [{ key: 'KOH', name: 'potassium hydroxide', points: 1 }],
  setup: {
    key: 'KOH',
    name: 'potassium hydroxide',
    unit: 'massFraction',
    ...{ target: 0.5, low: 0.48, high: 0.52, stopLow: 0.45, stopHigh: null },
  },
  fills: [{ bathId: 1, number: 'B-00014' }],
  points: {
    analysisId: [7],
    atMs: [Date.UTC(2026, 10, 2, 8, 30)],
    value: [0.4987],
    standardUncertainty: [0.0025],
    fill: [0],
  },
} as unknown as BathChart;

test('the file of a chart had shares under a chart in wt%, in UTC, without unit, component and limits', () => {
  const { heads, rows } = chartFile(chart, 'Europe/Berlin');
  expect(heads).toEqual([
    'sampled (Europe/Berlin)',
    'bath',
    'potassium hydroxide (wt%)',
    'standard uncertainty (wt%)',
    'stop low (wt%)',
    'low (wt%)',
    'target (wt%)',
    'high (wt%)',
    'stop high (wt%)',
  ]);
  expect(rows).toEqual([['2026-11-02 09:30:00', 'B-00014', 49.87, 0.25, 45, 48, 50, 52, null]]);
});

test('a component that nobody watches any more keeps its name, and no unit is made up', () => {
  const { heads } = chartFile({ ...chart, setup: null }, 'UTC');
  expect(heads[2]).toBe('potassium hydroxide');
});
