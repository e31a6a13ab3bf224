import fc from 'fast-check';
import { expect, it } from 'vitest';
import { compareAmounts, lessAmount, percentOfAmount, shareOfAmount, sumOfAmounts } from './amounts.ts';

it('adds without the residue of binary arithmetic', () => {
  expect(sumOfAmounts(['0.1', '0.2', '-0.05'], 'EUR')).toBe('0.25');
  expect(sumOfAmounts(['999999999999.99', '0.01'], 'EUR')).toBe('1000000000000.00');
  expect(sumOfAmounts(['12', '3'], 'JPY')).toBe('15');
  expect(sumOfAmounts(['1.2345', '-2'], 'KWD')).toBe('-0.766');
  expect(lessAmount('1', '-1', 'EUR')).toBe('2.00');
  expect(sumOfAmounts([], 'EUR')).toBe('0.00');
});

it('rounds half away from zero', () => {
  expect(percentOfAmount('0.50', 1, 'EUR')).toBe('0.01');
  expect(percentOfAmount('-0.50', 1, 'EUR')).toBe('-0.01');
  expect(percentOfAmount('372.68', 19, 'EUR')).toBe('70.81');
  expect(percentOfAmount('100.00', 8.125, 'USD')).toBe('8.13');
  expect(shareOfAmount({ total: '0.05', quantity: 2 }, 1, 'EUR')).toBe('0.03');
});

it('refuses what is no amount', () => {
  for (const amount of ['', '1,5', '1e3', '.5', '1.2345678', 'NaN', '--1'])
    expect(() => sumOfAmounts([amount], 'EUR'), amount).toThrow(RangeError);
});

it('compares by value, not by text', () => {
  expect(compareAmounts('10', '9.99')).toBe(1);
  expect(compareAmounts('1.50', '1.5')).toBe(0);
  expect(compareAmounts('-2', '1')).toBe(-1);
});

it('splits a total so that the parts, each the next of a running share, sum to it', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 10_000_000 }),
      fc.array(fc.integer({ min: 1, max: 500 }), { minLength: 1, maxLength: 12 }),
      fc.constantFrom('EUR', 'JPY', 'KWD'),
      (minor, parts, currency) => {
        const quantity = parts.reduce((sum, part) => sum + part, 0);
        const total = sumOfAmounts([(minor / 100).toFixed(2)], currency);
        let pieces = 0;
        let before = '0';
        const amounts = parts.map((part) => {
          pieces += part;
          const running = shareOfAmount({ total, quantity }, pieces, currency);
          const amount = lessAmount(running, before, currency);
          before = running;
          return amount;
        });
        expect(sumOfAmounts(amounts, currency)).toBe(total);
      },
    ),
  );
});
