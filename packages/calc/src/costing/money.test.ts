import { describe, expect, it } from 'vitest';
import { roundHalfAway } from './money.ts';

describe('rounding half away from zero', () => {
  it.each([
    [1.005, 2, 1.01],
    [2.675, 2, 2.68],
    [-1.005, 2, -1.01],
    [8.345, 2, 8.35],
    [1.00499999, 2, 1],
    [0.1 + 0.2, 2, 0.3],
    [372.6753559783619, 2, 372.68],
    [1e-7, 2, 0],
    [-1e-9, 2, 0],
    [123_456_789.125, 2, 123_456_789.13],
    [1.55283333, 4, 1.5528],
    [0.00005, 4, 0.0001],
  ])('%d to %d places is %d', (value, decimals, expected) => {
    expect(roundHalfAway(value, decimals)).toBe(expected);
  });
});
