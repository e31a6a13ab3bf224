import { expect, it } from 'vitest';
import { limitsText, plusMinus, rangeText, resultText } from './result-words.ts';

const none = { target: null, low: null, high: null, stopLow: null, stopHigh: null };

it('shows a result in the units of the person: 180.5 g/L are 24.10 oz/gal (NIST SP 811: 1 oz/gal is 7.489152 g/L)', () => {
  expect(resultText({ value: 180.5, unit: 'gramsPerLitre', system: 'us' })).toBe('24.10\u00a0oz/gal');
  expect(resultText({ value: 0.4905, unit: 'massFraction', system: 'metric' })).toBe('49.05\u00a0wt%');
  expect(resultText({ value: 5.4, unit: 'pH', system: 'us' })).toBe('5.40');
  expect(resultText({ value: 0, unit: 'judgement', system: 'us' })).toBe('not good');
});

it('says what is behind ± to the decimals of the result, however small it is', () => {
  const how = { value: 710.4, standardUncertainty: 1.61, unit: 'gramsPerLitre' } as const;
  expect(plusMinus({ ...how, system: 'metric' })).toBe('3.2');
  expect(plusMinus({ ...how, value: 7.32, standardUncertainty: 0.07, system: 'metric' })).toBe('0.14');
  expect(plusMinus({ ...how, value: 5.4, standardUncertainty: 0.05, unit: 'pH', system: 'us' })).toBe('0.10');
});

it('says ranges with the sides they have', () => {
  const how = { unit: 'gramsPerLitre', system: 'metric' } as const;
  expect(rangeText({ low: 165, high: 200 }, how)).toBe('165.0 to 200.0\u00a0g/L');
  expect(rangeText({ low: null, high: 12 }, how)).toBe('at most 12.0\u00a0g/L');
  expect(limitsText({ ...none, high: 12, stopHigh: 15 }, how)).toBe(
    'working range at most 12.0\u00a0g/L, stop above 15.0\u00a0g/L',
  );
  expect(limitsText({ ...none, stopLow: 150, stopHigh: 215 }, how)).toBe(
    'stop below 150.0\u00a0g/L or above 215.0\u00a0g/L',
  );
  expect(limitsText(none, how)).toBe('');
});
