import { scannedNumber } from '../../kernel/scanned-number.ts';

/** What is compared with the words of a lot, and with its number as somebody says it; null where it is none. */
export interface TankSearch {
  words: string;
  said: string | null;
}

/**
 * What somebody at the tank looks for. A scanner types the whole address of a printed code, a person `t93` or `L93`.
 *
 * @example
 * tankSearch('https://shop.example/t/T-00093/1') // { words: 'T-00093', said: 't93' }
 * tankSearch(' L93 ') // { words: 'L93', said: 'l93' }
 */
export function tankSearch(typed: string): TankSearch {
  const words = scannedNumber(typed);
  const [, letters, digits] = /^([a-z]{1,3})[\s-]?0*(\d{1,9})$/i.exec(words) ?? [];
  return {
    words,
    said: letters === undefined || digits === undefined ? null : letters.toLowerCase() + digits,
  };
}
