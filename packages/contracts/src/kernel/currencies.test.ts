import { describe, expect, it } from 'vitest';
import { Currency, currencyCodes, exactAmount, minorDigitsOf, moneyText } from './currencies.ts';

describe('currencies', () => {
  it('are codes that CLDR knows too, each once', () => {
    const known = new Set(Intl.supportedValuesOf('currency'));
    expect(currencyCodes.filter((code) => !known.has(code))).toEqual([]);
    expect(new Set(currencyCodes).size).toBe(currencyCodes.length);
    expect(currencyCodes.length).toBeGreaterThan(150);
  });

  it.each(['XXX', 'XTS', 'XAU', 'XDR', 'HRK', 'BGN', 'EU', 'eur', 'ABC'])(
    '%s is none to quote in',
    (code) => {
      expect(Currency.safeParse(code).success).toBe(false);
    },
  );

  it('count 0, 2 or 3 decimals (ISO 4217)', () => {
    const digits = (...codes: string[]) => codes.map(minorDigitsOf);
    expect(digits('JPY', 'KRW', 'ISK', 'VND', 'UGX')).toEqual([0, 0, 0, 0, 0]);
    expect(digits('EUR', 'USD', 'HUF', 'TWD', 'MGA')).toEqual([2, 2, 2, 2, 2]);
    expect(digits('KWD', 'BHD', 'JOD', 'OMR', 'TND', 'IQD', 'LYD')).toEqual([3, 3, 3, 3, 3, 3, 3]);
  });
});

describe('an amount that somebody typed', () => {
  it.each([
    ['12.5', 'USD', '12.50'],
    ['12', 'KWD', '12.000'],
    ['12.50', 'JPY', null],
    ['12.00', 'JPY', '12'],
    ['12.345', 'KWD', '12.345'],
    ['12.345', 'EUR', null],
  ])('%s %s', (amount, currency, exact) => expect(exactAmount(amount, currency)).toBe(exact));
});

it.each([
  ['1372.68', 'EUR', 'EUR\u00a01372.68'],
  ['-5.5', 'USD', 'USD\u00a0−5.50'],
  ['12400', 'JPY', 'JPY\u00a012\u202f400'],
  ['25.79', 'JPY', 'JPY\u00a025.79'],
  ['3.1681', 'EUR', 'EUR\u00a03.1681'],
  ['3.1000', 'EUR', 'EUR\u00a03.10'],
  ['1.5', 'KWD', 'KWD\u00a01.500'],
  ['90071992547409.93', 'EUR', 'EUR\u00a090\u202f071\u202f992\u202f547\u202f409.93'],
])('writes %s %s without losing a digit', (amount, currency, text) => {
  expect(moneyText(amount, currency)).toBe(text);
});
