import { expect, it } from 'vitest';
import { strengthText } from './instrument-words.ts';

it.each([
  [0.50123, 0.0007, '0.50123\u00a0±\u00a00.00070\u00a0eq/L'],
  [1, 0.02, '1.000\u00a0±\u00a00.020\u00a0eq/L'],
  [0.1, 0, '0.1\u00a0eq/L'],
  [0.1, 0.000000001, '0.100000\u00a0±\u00a00.000000\u00a0eq/L'],
])('writes %d ± %d', (eqPerLitre, standardUncertaintyEqPerLitre, text) =>
  expect(strengthText({ eqPerLitre, standardUncertaintyEqPerLitre })).toBe(text),
);
