import type { QuotedExchange } from '@huelot/contracts';
import { format } from './format.ts';

/**
 * A rate of exchange with its day and source.
 *
 * @example
 * exchangeText(rate) // '1 USD = 0.3072 KWD, 28 Nov 2026, central bank'
 */
export const exchangeText = ({ baseCurrency, currency, rate, day, source }: QuotedExchange): string =>
  `1\u00a0${baseCurrency} =\u00a0${rate}\u00a0${currency}, ${format.day(day)}, ${source}`;
