import { expect, it } from 'vitest';
import { calendarScale } from './calendar-scale.ts';

const hour = 3_600_000;

it('ticks at midnights over weeks, and writes days', () => {
  const scale = calendarScale([Date.UTC(2026, 2, 1, 5), Date.UTC(2026, 2, 29)], 600);
  const ticks = scale.ticks(4);
  expect(ticks.length).toBeGreaterThan(2);
  expect(ticks.every((tick) => tick % (24 * hour) === 0)).toBe(true);
  expect(scale.tickFormat(4)(Date.UTC(2026, 2, 8))).toBe('8 Mar');
});

it('writes hours within a day', () => {
  const scale = calendarScale([Date.UTC(2026, 2, 1, 8), Date.UTC(2026, 2, 1, 16)], 600);
  expect(scale.tickFormat(4)(Date.UTC(2026, 2, 1, 13, 30))).toBe('13:30');
  expect(scale(Date.UTC(2026, 2, 1, 12))).toBe(300);
});
