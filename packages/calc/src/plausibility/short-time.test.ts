import { expect, test } from 'vitest';
import { shortTime } from './short-time.ts';

test('a 30-minute seal signed at once raised no question', () => {
  expect(shortTime({ plannedS: 1800, lowS: null, tookS: 0 })).toMatchObject({ tookS: 0, plannedS: 1800 });
});

test('a limit of the time counts before the fifth', () => {
  const step = { plannedS: 1200, lowS: 1080 };
  expect(shortTime({ ...step, tookS: 1079 })).toMatchObject({ leastS: 1080 });
  expect(shortTime({ ...step, tookS: 1080 })).toBeNull();
  expect(shortTime({ ...step, lowS: null, tookS: 960 })).toBeNull();
});

test('where time does not matter nothing is asked', () => {
  expect(shortTime({ plannedS: 0, lowS: null, tookS: 0 })).toBeNull();
});
