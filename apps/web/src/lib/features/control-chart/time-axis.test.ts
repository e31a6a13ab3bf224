import fc from 'fast-check';
import { expect, it } from 'vitest';
import { shopClock } from '$lib/format/time.ts';
import { moved, scaled, shopClocks, showing, tickWords, within } from './time-axis.ts';

it('stays inside the whole and keeps its width where it can', () =>
  fc.assert(
    fc.property(
      fc.tuple(fc.integer({ min: -500, max: 500 }), fc.integer({ min: 1, max: 400 })),
      ([from, span]) => {
        const [start, end] = within([from, from + span], [0, 100], 1);
        expect(start).toBeGreaterThanOrEqual(0);
        expect(end).toBeLessThanOrEqual(100 + 1e-9);
        expect(end - start).toBeCloseTo(Math.min(span, 100), 9);
      },
    ),
  ));

it('does not go closer than the least', () => expect(within([50, 50], [0, 100], 10)).toEqual([45, 55]));

it('zooms about a point and out again', () => {
  expect(scaled([0, 100], 0.5, 20)).toEqual([10, 60]);
  expect(scaled([10, 60], 2, 20)).toEqual([0, 100]);
});

it('moves by its own width, and only when it must', () => {
  expect(moved([0, 10], -0.5)).toEqual([-5, 5]);
  expect(showing([0, 10], 7)).toEqual([0, 10]);
  expect(showing([0, 10], 30)).toEqual([25, 35]);
});

it.each(['Europe/Vienna', 'America/New_York', 'Asia/Kolkata', 'Australia/Lord_Howe', 'UTC'])(
  'reads the clock of %s as one question at a time would, also around its changes',
  (timeZone) => {
    const hours = Array.from({ length: 24 * 400 }, (_, hour) => Date.UTC(2025, 11, 1, hour, 17));
    const slow = hours.map((ms) => shopClock({ at: new Date(ms).toISOString(), timeZone }));
    expect(shopClocks({ atMs: hours, timeZone })).toEqual(slow);
  },
);

const DAY = 86_400_000;

it.each([
  [3650 * DAY, Date.UTC(2026, 0, 1), 'Jan 2026'],
  [60 * DAY, Date.UTC(2026, 2, 31), '31 Mar'],
  [DAY, Date.UTC(2026, 2, 31, 6), '06:00'],
  [DAY, Date.UTC(2026, 2, 31), '31 Mar'],
])('writes a tick of %d ms', (span, clock, words) => expect(tickWords(span)(clock)).toBe(words));
