import { z } from 'zod';
import { Currency } from '../kernel/currencies.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { Day, Id, Instant, Line } from '../kernel/scalars.ts';

/** Units of the other currency for one unit of the shop's, as decimal text; above 0. */
export const Rate = z
  .string()
  .regex(/^\d{1,9}(\.\d{1,8})?$/, {
    error: 'must be a number like 1.0842, with at most 8 decimals',
    abort: true,
  })
  .refine((rate) => Number(rate) > 0, 'must be above 0');

/**
 * What one unit of the shop's currency was worth in another, on a day, by a source. It is written once and never edited:
 * a newer one, or a right one after a slip, stands beside it.
 */
export const ExchangeRate = z
  .object({
    id: Id,
    baseCurrency: z.string(),
    currency: z.string(),
    /** `currency` for one `baseCurrency`. */
    rate: z.string(),
    /** The day the source gives it for. */
    day: Day,
    source: z.string(),
    createdBy: z.string(),
    createdAt: Instant,
  })
  .meta({ id: 'ExchangeRate' });
export type ExchangeRate = z.output<typeof ExchangeRate>;
/** As a quotation keeps it. */
export const QuotedExchange = ExchangeRate.omit({ createdBy: true, createdAt: true }).meta({
  id: 'QuotedExchange',
});
export type QuotedExchange = z.output<typeof QuotedExchange>;

export const listExchangeRates = defineQuery({
  name: 'listExchangeRates',
  tags: ['catalog'],
  path: '/exchange-rates',
  access: 'rates.read',
  summary: 'Rates of exchange of the shop’s currency, newest day first',
  query: { currency: z.string().length(3).optional() },
  reply: z.object({ items: z.array(ExchangeRate) }),
});
export const createExchangeRate = defineCommand({
  name: 'createExchangeRate',
  tags: ['catalog'],
  path: '/exchange-rates',
  access: 'quotations.write',
  summary: 'Record a rate of exchange with its day and source; it is never edited',
  body: z.strictObject({ currency: Currency, rate: Rate, day: Day, source: Line(200) }),
  reply: ExchangeRate,
  status: 201,
});
