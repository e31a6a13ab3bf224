import { expect, it } from 'vitest';
import { tickWords } from './time-ticks.ts';

const DAY = 86_400_000;

it.each([
  [3650 * DAY, Date.UTC(2026, 0, 1), 'Jan 2026'],
  [60 * DAY, Date.UTC(2026, 2, 31), '31 Mar'],
  [DAY, Date.UTC(2026, 2, 31, 6), '06:00'],
  [DAY, Date.UTC(2026, 2, 31), '31 Mar'],
])('writes a tick of %d ms', (span, clock, words) => expect(tickWords(span)(clock)).toBe(words));
