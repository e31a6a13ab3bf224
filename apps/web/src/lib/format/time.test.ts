import { describe, expect, it } from 'vitest';
import { clock, dateTime, dayAt, dayInWords, daysAway, duration, shopClock } from './time.ts';

describe('instants in the shop time zone', () => {
  const timeZone = 'Europe/Vienna';

  it('shows the shop date, not the UTC date', () => {
    expect(dateTime({ at: '2026-03-31T22:05:00Z', timeZone })).toBe('1 Apr 2026, 00:05');
    expect(dayAt({ at: '2026-03-31T22:05:00Z', timeZone })).toBe('2026-04-01');
  });

  it('follows daylight saving: 29 March 2026, 01:00 UTC, clocks go from 2 to 3', () => {
    expect(clock({ at: '2026-03-29T00:59:00Z', timeZone })).toBe('01:59');
    expect(clock({ at: '2026-03-29T01:00:00Z', timeZone })).toBe('03:00');
  });

  it('reads the shop clock as if it were UTC', () => {
    expect(shopClock({ at: '2026-03-31T22:05:07Z', timeZone })).toBe(Date.UTC(2026, 3, 1, 0, 5, 7));
    expect(shopClock({ at: '2026-03-31T22:05:00Z', timeZone: 'America/Denver' })).toBe(
      Date.UTC(2026, 2, 31, 16, 5),
    );
  });

  it('keeps a calendar day as it is', () => {
    expect(dayInWords('2026-01-01')).toBe('1 Jan 2026');
  });
});

describe('spans', () => {
  it('says how far a day is', () => {
    expect(daysAway('2026-04-01', '2026-04-01')).toBe('today');
    expect(daysAway('2026-04-02', '2026-04-01')).toBe('tomorrow');
    expect(daysAway('2026-03-22', '2026-04-01')).toBe('10 days ago');
  });

  it('writes durations', () => {
    expect(duration(0)).toBe('0 s');
    expect(duration(95)).toBe('1 min 35 s');
    expect(duration(5400)).toBe('1 h 30 min');
    expect(duration(-61)).toBe('−1 min 1 s');
  });
});
