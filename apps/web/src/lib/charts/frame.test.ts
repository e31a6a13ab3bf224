import { expect, it } from 'vitest';
import { extentOf, seriesColour } from './frame.ts';

it('opens an extent a little on both sides', () => {
  expect(extentOf([10, 20], 0.1)).toEqual([9, 21]);
  expect(extentOf([5, 5], 0.1)).toEqual([4.5, 5.5]);
  expect(extentOf([0], 0.1)).toEqual([-1, 1]);
  expect(extentOf([])).toEqual([0, 1]);
});

it('has six colours for series', () => {
  expect([0, 5, 6].map(seriesColour)).toEqual(['var(--series-1)', 'var(--series-6)', 'var(--series-1)']);
});
