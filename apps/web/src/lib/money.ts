/**
 * An exact decimal amount as people read it. The amount stays text all the way, so nothing is rounded through a float.
 *
 * @example
 * money('1372.68', 'EUR') // '€1,372.68'
 */
export function money(amount: string, currency: string): string {
  // Intl formats decimal text exactly; TypeScript's library only knows the numeric literal form of it.
  return formatFor(currency)
    .format(amount as `${number}`)
    .replace('-', '−');
}

/**
 * A sentence of the costing, where `¤` stands for the currency, with its amounts as people read them.
 *
 * @example
 * amountsInWords('takes the lot to ¤160.31', 'EUR') // 'takes the lot to €160.31'
 */
export const amountsInWords = (sentence: string, currency: string): string =>
  sentence.replace(/¤(\d+(?:\.\d+)?)/g, (_, amount: string) => money(amount, currency));

/**
 * The number of decimals the currency is counted in.
 *
 * @example
 * moneyDecimals('JPY') // 0
 */
export function moneyDecimals(currency: string): number {
  return formatFor(currency).resolvedOptions().minimumFractionDigits ?? 2;
}

const formats = new Map<string, Intl.NumberFormat>();
function formatFor(currency: string): Intl.NumberFormat {
  let known = formats.get(currency);
  if (!known) {
    // A unit price carries four places; an amount of money shows those its currency counts.
    known = new Intl.NumberFormat('en', { style: 'currency', currency, maximumFractionDigits: 4 });
    formats.set(currency, known);
  }
  return known;
}
