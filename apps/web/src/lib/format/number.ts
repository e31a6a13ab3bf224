/** What somebody typed as a number: the number, nothing, or why it is neither. */
export type Typed = { number: number } | { empty: true } | { fault: string };

/**
 * Reads a typed number. A decimal point or a decimal comma will do; spaces between digits are ignored. `1,000` may mean
 * one or one thousand, so it is refused rather than guessed.
 *
 * @example
 * parseNumber(' 12,5 ') // { number: 12.5 }
 * parseNumber('1,000') // { fault: ... }
 */
export function parseNumber(text: string): Typed {
  const plain = withoutSpaces(text);
  if (plain === '') return { empty: true };
  if (/^[+-]?\d{1,3}(,\d{3})+$/.test(plain)) {
    const whole = plain.replaceAll(',', '');
    return { fault: `Write ${whole}, or ${plain.replace(',', '.')} if the comma is a decimal mark.` };
  }
  const pointed = withPoint(plain);
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,2})?$/i.test(pointed)) {
    return { fault: `“${text.trim()}” is not a number. Write it like 12.5.` };
  }
  return { number: Number(pointed) };
}

const withoutSpaces = (text: string): string => text.replace(/[\s\u00a0\u202f]/g, '').replace(/^−/, '-');
const withPoint = (plain: string): string => plain.replace(/^([+-]?\d*),(\d*)$/, '$1.$2');

/** What somebody typed as an amount of money: its exact decimal text, nothing, or why it is neither. */
export type TypedAmount = { amount: string } | { empty: true } | { fault: string };

/**
 * Reads a typed amount of money with every digit kept; comma and point as in {@link parseNumber}. Amounts are not
 * negative, and nobody writes them with an exponent.
 *
 * @example
 * parseAmount('1 240,50') // { amount: '1240.50' }
 */
export function parseAmount(text: string): TypedAmount {
  const number = parseNumber(text);
  if (!('number' in number)) return number;
  const amount = withPoint(withoutSpaces(text));
  if (!/^\d+(\.\d+)?$/.test(amount))
    return { fault: `“${text.trim()}” is not an amount. Write it like 12.50.` };
  return { amount };
}
