import { CsvError, parse } from 'csv-parse/sync';
import { fieldError } from '../kernel/refusal.ts';

export const separators = { comma: ',', semicolon: ';', tab: '\t' } as const;
export type Separator = keyof typeof separators;

/**
 * The records of a text with separated cells, empty lines left out. What is no such text is refused under `path`.
 *
 * @example
 * readCsv('a;b\n1;2', { separator: 'semicolon', path: 'csv' }) // [['a', 'b'], ['1', '2']]
 */
export function readCsv(
  text: string,
  { separator, path }: { separator: Separator; path: string },
): string[][] {
  try {
    return parse(text, {
      bom: true,
      delimiter: separators[separator],
      skip_empty_lines: true,
      relax_column_count: true,
    });
  } catch (error) {
    if (error instanceof CsvError) throw fieldError(path, error.message);
    throw error;
  }
}

/** A cell as a fault names it. */
export const shownCell = (text: string) => (text === '' ? 'an empty cell' : `“${text.slice(0, 40)}”`);

/**
 * A number in a cell, or null. A point where a comma is the decimal sign (or the reverse) parts thousands or is a slip: it
 * is not guessed at.
 *
 * @example
 * cellNumber('4,5', 'comma') // 4.5
 */
export function cellNumber(text: string, decimal: 'point' | 'comma'): number | null {
  const plain = decimal === 'comma' ? text.replaceAll('.', '?').replace(',', '.') : text;
  return /^-?\d{1,12}(\.\d{1,12})?$/.test(plain) ? Number(plain) : null;
}
