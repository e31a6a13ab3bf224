import { z } from 'zod';
import { groupDigits } from './numbers.ts';

/**
 * Currencies in use, by the digits of their minor unit. Source: ISO 4217, list one, which its maintenance agency keeps;
 * entered from memory, codes compared with those of CLDR by a test. Left out are funds, precious metals, units of
 * account, test codes and `XXX`: nobody is quoted in them.
 */
const CODES_BY_MINOR_DIGITS = {
  0: 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF',
  2:
    'AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP ' +
    'CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES ' +
    'KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK ' +
    'NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB ' +
    'TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD XCG YER ZAR ZMW ZWG',
  3: 'BHD IQD JOD KWD LYD OMR TND',
} as const;

const MINOR_DIGITS: ReadonlyMap<string, number> = new Map(
  Object.entries(CODES_BY_MINOR_DIGITS).flatMap(([digits, codes]) =>
    codes.split(' ').map((code) => [code, Number(digits)] as const),
  ),
);

/** Every code of the table, in alphabetical order. */
export const currencyCodes: readonly string[] = [...MINOR_DIGITS.keys()].sort();

/** A code of ISO 4217 that is in use. Records keep the code they were made with, also when it goes out of use. */
export const Currency = z
  .string()
  .regex(/^[A-Z]{3}$/, { error: 'must be three capital letters like EUR', abort: true })
  .refine((code) => MINOR_DIGITS.has(code), 'is not a currency in use (ISO 4217); allowed: EUR, USD, JPY …');

/**
 * Decimals that a currency is counted in: 0, 2 or 3. A code that is not in the table counts two, as nearly all do.
 *
 * @example
 * minorDigitsOf('KWD') // 3
 */
export const minorDigitsOf = (currency: string): number => MINOR_DIGITS.get(currency) ?? 2;

/**
 * An amount that somebody typed, with exactly the decimals its currency is counted in; `null` when it has more.
 *
 * @example
 * exactAmount('12.5', 'USD') // '12.50'
 * exactAmount('12.5', 'JPY') // null
 */
export function exactAmount(amount: string, currency: string): string | null {
  const digits = minorDigitsOf(currency);
  const [whole = '0', fraction = ''] = amount.split('.');
  const kept = fraction.replace(/0+$/, '');
  if (kept.length > digits) return null;
  return digits === 0 ? whole : `${whole}.${kept.padEnd(digits, '0')}`;
}

/**
 * An exact decimal amount as people read it, with the code of its currency: pages and papers write it alike. The amount
 * stays text, so nothing is rounded; a unit price keeps its further decimals. It does not break at the end of a line.
 *
 * @example
 * moneyText('12372.5', 'EUR') // 'EUR 12 372.50'
 */
export function moneyText(amount: string, currency: string): string {
  const [whole = '0', fraction = ''] = amount.split('.');
  const decimals = fraction.replace(/0+$/, '').padEnd(minorDigitsOf(currency), '0');
  return `${currency}\u00a0${groupDigits(decimals === '' ? whole : `${whole}.${decimals}`)}`;
}
