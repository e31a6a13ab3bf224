import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupDigits } from '@huelot/contracts';
import { parseAmount, parseNumber } from './number.ts';

describe('reading a typed number', () => {
  it.each([
    ['12.5', 12.5],
    [' 12,5 ', 12.5],
    ['−3', -3],
    ['.5', 0.5],
    ['1 234,5', 1234.5],
    ['1\u202f234.5', 1234.5],
    ['1,25', 1.25],
    ['2e3', 2000],
    ['0,1234', 0.1234],
  ])('%s is %d', (text, number) => expect(parseNumber(text)).toEqual({ number }));

  it('takes an empty field as nothing', () => expect(parseNumber('  ')).toEqual({ empty: true }));

  it.each(['1,000', '12,000,000', '1.2.3', '12 V', 'abc', '1,2,3', '-', 'Infinity', '0x10', '1e999'])(
    'refuses %s',
    (text) => expect(parseNumber(text)).toHaveProperty('fault'),
  );

  it('reads back every number that it writes', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e9, max: 1e9 }), fc.integer({ min: 0, max: 6 }), (scaled, decimals) => {
        const text = (scaled / 10 ** decimals).toFixed(decimals);
        expect(parseNumber(groupDigits(text))).toEqual({ number: Number(text) });
      }),
    );
  });
});

it('groups digits from five on', () => {
  expect(groupDigits('4800')).toBe('4800');
  expect(groupDigits('12400.5')).toBe('12\u202f400.5');
  expect(groupDigits('-1234567')).toBe('−1\u202f234\u202f567');
});

describe('reading a typed amount of money', () => {
  it.each([
    ['12,50', '12.50'],
    ['12.50', '12.50'],
    ['1 240,5', '1240.5'],
    ['90071992547409.93', '90071992547409.93'],
  ])('%s keeps every digit', (text, amount) => expect(parseAmount(text)).toEqual({ amount }));

  it.each(['1,000', '1e3', '-5', '12 EUR', '.', '1.'])('asks back for %s', (text) =>
    expect(parseAmount(text)).toHaveProperty('fault'),
  );
});
