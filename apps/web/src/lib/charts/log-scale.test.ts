import { describe, expect, it } from 'vitest';
import { logScale, powersAround } from './log-scale.ts';

describe('a logarithmic scale', () => {
  it('gives each power of ten the same room', () => {
    const scale = logScale([0.001, 1], [0, 300]);
    expect([0.001, 0.01, 0.1, 1].map((value) => Math.round(scale(value)))).toEqual([0, 100, 200, 300]);
    expect(scale.ticks(5)).toEqual([0.001, 0.01, 0.1, 1]);
  });

  it('has more ticks where it covers little', () => {
    expect(logScale([0.01, 0.1], [0, 100]).ticks(5)).toEqual([0.01, 0.02, 0.05, 0.1]);
  });

  it('opens a single value to a decade', () => {
    expect(powersAround([0.02])).toEqual([0.01, 0.1]);
    expect(powersAround([0.1])).toEqual([0.1, 1]);
    expect(powersAround([0.0004, 0.03])[1]).toBeCloseTo(0.1, 12);
  });
});
