import { expect, it } from 'vitest';
import { instantAt, localAt } from './local-time.ts';

const timeZone = 'Europe/Vienna';

it('reads the clock of the shop', () => {
  expect(instantAt({ local: '2026-04-01T00:05', timeZone })).toBe('2026-03-31T22:05:00.000Z');
  expect(localAt({ at: '2026-03-31T22:05:00Z', timeZone })).toBe('2026-04-01T00:05');
});

it('takes the first of the two hours when clocks go back, on 25 October 2026', () => {
  expect(instantAt({ local: '2026-10-25T02:30', timeZone })).toBe('2026-10-25T00:30:00.000Z');
});

it('gives back times all over a year', () => {
  for (let ms = Date.UTC(2026, 0, 1); ms < Date.UTC(2027, 0, 1); ms += 2_700_000) {
    const local = localAt({ at: new Date(ms).toISOString(), timeZone });
    const back = instantAt({ local, timeZone }) ?? '';
    expect(localAt({ at: back, timeZone })).toBe(local);
  }
});

it('waits for a whole date and time', () => expect(instantAt({ local: '2026-10-25', timeZone })).toBeNull());
