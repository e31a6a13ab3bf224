import { scannedNumber } from '../../kernel/scanned-number.ts';

/** What somebody looks for, and the record number it may stand for. */
export interface FindWords {
  words: string;
  /** Letters and digits of a number as it is said: `51`, `Q-51`, `l93`; null where it is none. */
  said: { letters: string; digits: string } | null;
}

/**
 * What was typed, pasted or scanned into the search box. A scanner types the whole address of a printed code.
 *
 * @example
 * findWords('https://shop.example/t/T-00093/1') // { words: 'T-00093', said: { letters: 't', digits: '93' } }
 * findWords('51') // { words: '51', said: { letters: '', digits: '51' } }
 */
export function findWords(typed: string): FindWords {
  const words = scannedNumber(typed);
  const [, letters = '', digits] = /^([a-z]{0,4})[\s-]?0*(\d{1,9})$/i.exec(words) ?? [];
  return { words, said: digits === undefined ? null : { letters: letters.toLowerCase(), digits } };
}

/**
 * The whole numbers that a number as it is said may mean in the shop's series.
 *
 * @example
 * numbersSaid({ letters: 'q', digits: '51' }, [{ prefix: 'Q-', digits: 5 }, { prefix: 'L-', digits: 5 }]) // ['Q-00051']
 */
export function numbersSaid(
  said: FindWords['said'],
  series: readonly { prefix: string; digits: number }[],
): string[] {
  if (said === null) return [];
  return series
    .filter(({ prefix }) => prefix.toLowerCase().startsWith(said.letters))
    .map(({ prefix, digits }) => prefix + said.digits.padStart(digits, '0'));
}
