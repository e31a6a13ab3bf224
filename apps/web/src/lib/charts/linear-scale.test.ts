import { expect, it } from 'vitest';
import { linearScale, roundedDomain } from './linear-scale.ts';

it('maps a domain onto pixels, either way up', () => {
  expect(linearScale([0, 50], [0, 600])(25)).toBe(300);
  expect(linearScale([10, 20], [200, 0])(10)).toBe(200);
  expect(linearScale([5, 5], [0, 100])(5)).toBe(0);
});

it('writes ticks with the decimals of their step', () => {
  const scale = linearScale([0, 1], [0, 100]);
  expect(scale.ticks(5).map(scale.tickFormat(5))).toEqual(['0.0', '0.2', '0.4', '0.6', '0.8', '1.0']);
  expect(linearScale([0, 20000], [0, 1]).tickFormat(4)(15000)).toBe('15\u202f000');
  expect(linearScale([0, 0.1], [0, 1]).tickFormat(5)(0.02)).toBe('0.02');
});

it('opens a domain to round ends', () => {
  expect(roundedDomain([0.3, 9.6], 10)).toEqual([0, 10]);
});
