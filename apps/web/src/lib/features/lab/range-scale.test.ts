import { describe, expect, it } from 'vitest';
import { rangeScale } from './range-scale.ts';

const none = { target: null, low: null, high: null, stopLow: null, stopHigh: null };

describe('the scale of a range bar', () => {
  it('puts the middle of even limits in the middle', () => {
    const limits = { target: 0.5, low: 0.48, high: 0.52, stopLow: 0.46, stopHigh: 0.54 };
    const scale = rangeScale({ value: 0.5, limits });
    expect(scale?.at(0.5)).toBeCloseTo(0.5);
    expect(scale?.allowed.from).toBeLessThan(scale?.working.from ?? 0);
    expect(scale?.working.to).toBeLessThan(scale?.allowed.to ?? 0);
    expect(scale?.allowed.from).toBeGreaterThan(0);
  });

  it('begins at zero where only too much is bad, and stays open below', () => {
    const scale = rangeScale({ value: 20, limits: { ...none, high: 50, stopHigh: 80 } });
    expect(scale?.at(0)).toBe(0);
    expect(scale?.allowed.from).toBe(0);
    expect(scale?.working).toEqual({ from: 0, to: scale?.at(50) });
  });

  it('holds a value far outside to the end of the bar', () => {
    const scale = rangeScale({ value: 900, limits: { ...none, low: 10, high: 12 } });
    expect(scale?.at(900)).toBe(1);
    expect(scale?.at(-900)).toBe(0);
  });

  it('draws nothing without limits', () => expect(rangeScale({ value: 1, limits: none })).toBeNull());
});
