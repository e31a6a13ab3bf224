import { expect, it } from 'vitest';
import { CalcError } from '../errors.ts';
import { shareInterval } from './share-interval.ts';

// Newcombe, Stat. Med. 17 (1998) 857, table I, score method without continuity correction: from memory.
it.each([
  { count: 81, total: 263, low: 0.2553, high: 0.3662 },
  { count: 15, total: 148, low: 0.0624, high: 0.1605 },
  { count: 0, total: 20, low: 0, high: 0.1611 },
  { count: 1, total: 29, low: 0.0061, high: 0.1718 },
])('$count of $total has the published interval', ({ count, total, low, high }) => {
  const interval = shareInterval({ count, total });
  expect(interval.low).toBeCloseTo(low, 4);
  expect(interval.high).toBeCloseTo(high, 4);
  expect(interval.share).toBe(count / total);
});

it('mirrors: what is not of them has the interval turned round', () => {
  for (const [count, total] of [
    [0, 5],
    [2, 7],
    [40, 41],
  ] as const) {
    const [one, other] = [shareInterval({ count, total }), shareInterval({ count: total - count, total })];
    expect(one.low).toBeCloseTo(1 - other.high, 12);
    expect(one.high).toBeCloseTo(1 - other.low, 12);
  }
});

it.each([
  [1, 0],
  [3, 2],
  [-1, 2],
  [0.5, 2],
  [1, Number.NaN],
])('refuses %d of %d', (count, total) => {
  expect(() => shareInterval({ count, total })).toThrow(CalcError);
});
