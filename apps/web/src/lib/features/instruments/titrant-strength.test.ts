import { expect, it } from 'vitest';
import { strengthText } from './titrant-strength.ts';

it.each([
  [0.50123, 0.0007, '0.5012\u00a0±\u00a00.0014\u00a0eq/L'],
  [1, 0.02, '1.000\u00a0±\u00a00.040\u00a0eq/L'],
  [0.1, 0, '0.1\u00a0eq/L'],
])('writes %d with twice %d', (eqPerLitre, standardUncertaintyEqPerLitre, text) =>
  expect(strengthText({ eqPerLitre, standardUncertaintyEqPerLitre })).toBe(text),
);
