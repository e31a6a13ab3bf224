import { minorDigitsOf } from './currencies.ts';

/** Decimals that an amount is read with: those that `Money` takes. */
const DIGITS = 6;

/** An exact decimal amount as a whole number of millionths. */
function millionthsOf(amount: string): bigint {
  const [, sign = '', whole = '', fraction = ''] = /^(-?)(\d+)(?:\.(\d{1,6}))?$/.exec(amount) ?? [];
  if (whole === '') throw new RangeError(`${amount} is not an amount of at most ${DIGITS} decimals`);
  const value = BigInt(whole + fraction.padEnd(DIGITS, '0'));
  return sign === '-' ? -value : value;
}

/** `dividend / divisor`, rounded half away from zero; the divisor is above 0. */
function divided(dividend: bigint, divisor: bigint): bigint {
  const size = dividend < 0n ? -dividend : dividend;
  const rounded = (2n * size + divisor) / (2n * divisor);
  return dividend < 0n ? -rounded : rounded;
}

/** A whole number of minor units as decimal text. */
function amountText(minor: bigint, digits: number): string {
  const size = (minor < 0n ? -minor : minor).toString().padStart(digits + 1, '0');
  const text = digits === 0 ? size : `${size.slice(0, -digits)}.${size.slice(-digits)}`;
  return minor < 0n ? `-${text}` : text;
}

const perMinorUnit = (digits: number) => 10n ** BigInt(DIGITS - digits);

/**
 * The sum of exact amounts in the decimals of their currency; a negative one is taken off. Rounded half away from zero where
 * they have more decimals than that. Errors: `RangeError` for what is no amount.
 *
 * @example
 * sumOfAmounts(['0.10', '0.20', '-0.05'], 'EUR') // '0.25'
 */
export function sumOfAmounts(amounts: readonly string[], currency: string): string {
  const digits = minorDigitsOf(currency);
  const sum = amounts.reduce((total, amount) => total + millionthsOf(amount), 0n);
  return amountText(divided(sum, perMinorUnit(digits)), digits);
}

/** One amount less another: {@link sumOfAmounts}. */
export const lessAmount = (amount: string, other: string, currency: string): string =>
  sumOfAmounts([amount, other.startsWith('-') ? other.slice(1) : `-${other}`], currency);

/**
 * What `pieces` cost where `basis.quantity` of them cost `basis.total`, rounded once, half away from zero. Ranges: whole
 * numbers, the quantity above 0.
 *
 * @example
 * shareOfAmount({ total: '100.00', quantity: 3 }, 1, 'EUR') // '33.33'
 */
export function shareOfAmount(
  basis: { total: string; quantity: number },
  pieces: number,
  currency: string,
): string {
  const digits = minorDigitsOf(currency);
  const share = millionthsOf(basis.total) * BigInt(pieces);
  return amountText(divided(share, BigInt(basis.quantity) * perMinorUnit(digits)), digits);
}

/**
 * A percentage of an amount, to the thousandth of a per cent, rounded half away from zero.
 *
 * @example
 * percentOfAmount('372.68', 19, 'EUR') // '70.81'
 */
export function percentOfAmount(amount: string, percent: number, currency: string): string {
  const thousandths = BigInt(Math.round(percent * 1000));
  const digits = minorDigitsOf(currency);
  return amountText(divided(millionthsOf(amount) * thousandths, 100_000n * perMinorUnit(digits)), digits);
}

/**
 * Below 0, 0, or above 0 as the first amount is less than, equal to or more than the second.
 *
 * @example
 * compareAmounts('10', '9.99') // 1
 */
export function compareAmounts(amount: string, other: string): number {
  const difference = millionthsOf(amount) - millionthsOf(other);
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}
