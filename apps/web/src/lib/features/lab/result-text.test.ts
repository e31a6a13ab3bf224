import { expect, it } from 'vitest';
import { limitsText, rangeText, resultText, uncertainParts, uncertainResultText } from './result-text.ts';

const none = { target: null, low: null, high: null, stopLow: null, stopHigh: null };

it('shows a result in the units of the person: 180.5 g/L are 24.10 oz/gal (NIST SP 811: 1 oz/gal is 7.489152 g/L)', () => {
  expect(resultText({ value: 180.5, unit: 'gramsPerLitre', system: 'us' })).toBe('24.10\u00a0oz/gal');
  expect(resultText({ value: 0.4905, unit: 'massFraction', system: 'metric' })).toBe('49.05\u00a0wt%');
  expect(resultText({ value: 5.4, unit: 'pH', system: 'us' })).toBe('5.40');
  expect(resultText({ value: 0, unit: 'judgement', system: 'us' })).toBe('not good');
});

it('says a result and two standard uncertainties to the same place', () => {
  const how = { unit: 'gramsPerLitre', system: 'metric' } as const;
  const text = (value: number, standardUncertainty: number | null) =>
    uncertainResultText({ ...how, value, standardUncertainty });
  expect(text(710.4, 1.61)).toBe('710.4\u00a0±\u00a03.2\u00a0g/L');
  expect(text(7.32, 0.07)).toBe('7.32\u00a0±\u00a00.14\u00a0g/L');
  expect(text(28.1, 0.1145)).toBe('28.10\u00a0±\u00a00.23\u00a0g/L');
  expect(text(28.1, null)).toBe('28.1\u00a0g/L');
  expect(uncertainResultText({ value: 5.4, standardUncertainty: 0.05, unit: 'pH', system: 'us' })).toBe(
    '5.40\u00a0±\u00a00.10',
  );
  expect(uncertainResultText({ value: 1, standardUncertainty: 0.1, unit: 'judgement', system: 'us' })).toBe(
    'good',
  );
});

it('showed a final rinse as 0.04 ± 0.20 mS/cm: below 1 mS/cm meters read µS/cm', () => {
  const how = { unit: 'siemensPerM', system: 'metric' } as const;
  expect(uncertainResultText({ ...how, value: 0.0004, standardUncertainty: 0.0000215 })).toBe(
    '4.00\u00a0±\u00a00.43\u00a0µS/cm',
  );
  expect(resultText({ ...how, value: 2 })).toBe('20.0\u00a0mS/cm');
  expect(rangeText({ low: 0.003, high: 0.02 }, how)).toBe('30 to 200\u00a0µS/cm');
  expect(rangeText({ low: 0.05, high: 2 }, how)).toBe('500\u00a0µS/cm to 20.0\u00a0mS/cm');
});

it('keeps the digits that ± takes off, for whoever reckons on', () => {
  const how = { unit: 'gramsPerLitre', system: 'metric' } as const;
  expect(uncertainParts({ ...how, value: 743.37, standardUncertainty: 5.87 })).toEqual({
    figure: '743',
    plusMinus: '12',
    symbol: 'g/L',
    exactly: '743.4\u00a0g/L',
  });
  expect(uncertainParts({ ...how, value: 7.32, standardUncertainty: 0.07 }).exactly).toBeNull();
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
