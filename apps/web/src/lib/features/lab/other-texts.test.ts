import { expect, it } from 'vitest';
import { otherTexts } from './other-texts.ts';

const caustic = {
  value: 743.4,
  standardUncertainty: 5.87,
  unit: 'gramsPerLitre',
  massFraction: 0.484,
  gramsPerLitre: null,
} as const;

it('says the digits that ± takes off, the mass fraction, and the uncertainty in per cent', () => {
  expect(otherTexts(caustic, 'metric')).toEqual([
    '743.4\u00a0g/L',
    '48.40\u00a0wt%',
    'standard uncertainty 0.79\u00a0%',
  ]);
});

it('says no share of what is no amount, is nothing, or has no uncertainty', () => {
  for (const none of [
    { unit: 'pH', value: 5.4 },
    { value: 0 },
    { standardUncertainty: null },
    { standardUncertainty: 0 },
  ] as const)
    expect(otherTexts({ ...caustic, ...none }, 'metric').join()).not.toContain('standard uncertainty');
});
