import { expect, it } from 'vitest';
import { amountsInWords } from './money.ts';
import { currencies } from './locales.ts';

it('writes the amounts of a sentence in their currency, and leaves its other figures', () => {
  expect(amountsInWords('at ¤1372.6800 a piece; at 48 a piece costs ¤3.3398.', 'GBP')).toBe(
    'at GBP\u00a01372.68 a piece; at 48 a piece costs GBP\u00a03.3398.',
  );
});

it('offers every currency by its name', () => {
  const options = currencies();
  expect(options).toContainEqual({ value: 'KWD', label: 'KWD, Kuwaiti Dinar' });
  expect(options.filter(({ value, label }) => label === `${value}, ${value}`)).toEqual([]);
});
