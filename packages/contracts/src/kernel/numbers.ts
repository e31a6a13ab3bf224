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
