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
  const plain = text.replace(/[\s\u00a0\u202f]/g, '').replace(/^−/, '-');
  if (plain === '') return { empty: true };
  if (/^[+-]?\d{1,3}(,\d{3})+$/.test(plain)) {
    const whole = plain.replaceAll(',', '');
    return { fault: `Write ${whole}, or ${plain.replace(',', '.')} if the comma is a decimal mark.` };
  }
  const pointed = plain.replace(/^([+-]?\d*),(\d*)$/, '$1.$2');
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,2})?$/i.test(pointed)) {
    return { fault: `“${text.trim()}” is not a number. Write it like 12.5.` };
  }
  return { number: Number(pointed) };
}

/**
 * A number in digits with a narrow space between groups of three from five digits on, as ISO 80000-1 writes them.
 *
 * @example
 * groupDigits('12400.5') // '12 400.5'
 * groupDigits('-4800') // '−4800'
 */
export function groupDigits(text: string): string {
  const [whole = '', decimals] = text.replace('-', '').split('.');
  const grouped = whole.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, '\u202f');
  return (text.startsWith('-') ? '−' : '') + grouped + (decimals === undefined ? '' : `.${decimals}`);
}
