import { expect, it } from 'vitest';
import { amountsInWords, money, moneyDecimals } from './money.ts';

it('writes an amount in its currency', () => {
  expect(money('1372.68', 'EUR')).toBe('€1,372.68');
  expect(money('-5.5', 'USD')).toBe('−$5.50');
  expect(money('1200', 'JPY')).toBe('¥1,200');
});

it('shows the four places of a unit price', () => {
  expect(money('3.1681', 'EUR')).toBe('€3.1681');
  expect(money('3.10', 'EUR')).toBe('€3.10');
});

it('keeps digits a float would lose', () => {
  expect(money('999999999999.99', 'EUR')).toBe('€999,999,999,999.99');
  expect(money('90071992547409.93', 'EUR')).toBe('€90,071,992,547,409.93');
});

it('writes the amounts of a sentence in their currency, and leaves its other figures', () => {
  expect(amountsInWords('at ¤1372.6800 a piece; at 48 a piece costs ¤3.3398.', 'GBP')).toBe(
    'at £1,372.68 a piece; at 48 a piece costs £3.3398.',
  );
});

it('knows how a currency is counted (ISO 4217)', () => {
  expect([moneyDecimals('EUR'), moneyDecimals('JPY'), moneyDecimals('KWD')]).toEqual([2, 0, 3]);
});
