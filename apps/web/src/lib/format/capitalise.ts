/**
 * Words with a capital at their start. `pH` and other words whose second letter is a capital are written as they are.
 *
 * @example
 * capitalise('bath temperature') // 'Bath temperature'
 * capitalise('pH') // 'pH'
 */
export const capitalise = (words: string): string =>
  /^\p{Ll}\p{Lu}/u.test(words) ? words : words.charAt(0).toUpperCase() + words.slice(1);
