import { describe, expect, it } from 'vitest';
import { readPoints, usualEquivalentWeight } from './scan-form.ts';

describe('points of a scan', () => {
  it('are read by the names of their columns, whatever their order, separator and decimal mark', () => {
    const expected = [{ potentialV: -0.46, currentA: -8e-6 }];
    for (const text of [
      'E/V;I/A\n-0,46;-8e-6',
      'Current (A),Time,Potential (V)\n-8E-6,1,-0.46',
      'potential\tcurrent\n−0.46\t-0.000008',
    ])
      expect(readPoints(text), text).toEqual({ points: expected, fault: '' });
  });

  it('a first line of figures would have been lost as heads: it asks for their names', () => {
    expect(readPoints('-0.46;-8e-6\n-0.45;0').fault).toContain('first line must name');
  });

  it('says which line holds none, and takes no part of the rest', () => {
    expect(readPoints('E;I\n-0.46;-8e-6\n-0.45;')).toEqual({
      points: [],
      fault: 'Line 3 holds no potential and current: -0.45 ',
    });
  });
});

describe('the equivalent weight to begin with', () => {
  it('is that of the pure metal: iron 27.92, titanium 11.97, aluminium 8.99 (ASTM G102)', () => {
    expect((['steel', 'titanium', 'aluminium'] as const).map(usualEquivalentWeight)).toEqual([
      27.92, 11.97, 8.99,
    ]);
  });

  it('is not guessed for an alloy of many metals', () => {
    expect(usualEquivalentWeight('stainless-steel')).toBeNull();
  });
});
