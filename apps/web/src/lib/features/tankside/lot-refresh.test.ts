import type { Traveler } from '@huelot/contracts';
import { expect, test } from 'vitest';
import { newerOf } from './lot-refresh.ts';

const reading = (id: number, version: number, lotId = 1) => ({ id, lot: { id: lotId, version } }) as Traveler;

test('after a network drop the page went back to step 1 and asked for it again', () => {
  const answered = reading(4, 9);
  expect(newerOf(answered, reading(4, 8))).toBe(answered);
});

test('a newer state, a new revision and another lot are shown', () => {
  for (const other of [reading(4, 9), reading(4, 10), reading(5, 1), reading(2, 1, 7)])
    expect(newerOf(reading(4, 9), other)).toBe(other);
  const current = reading(5, 1);
  expect(newerOf(current, reading(4, 9))).toBe(current);
});
