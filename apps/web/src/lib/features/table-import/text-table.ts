import { CsvError, parse } from 'csv-parse/browser/esm/sync';

const separators = { comma: ',', semicolon: ';', tab: '\t' } as const;
export type Separator = keyof typeof separators;

export interface TextTable {
  separator: Separator;
  columns: string[];
  /** Line 2 of the file comes first; empty lines are left out, as the server leaves them out. */
  rows: string[][];
}

/**
 * Reads the cells of a CSV file, or of what was copied from a spreadsheet; the separator is the one its first line has most of.
 *
 * @example
 * readTable('day;KOH\n2026-03-01;49,5') // { separator: 'semicolon', columns: ['day', 'KOH'], rows: [['2026-03-01', '49,5']] }
 */
export function readTable(text: string): TextTable | { fault: string } {
  const head = text.slice(0, text.search(/[\r\n]|$/));
  const count = (separator: Separator) => head.split(separators[separator]).length;
  const separator = (['comma', 'semicolon', 'tab'] as const).reduce((best, one) =>
    count(one) > count(best) ? one : best,
  );
  try {
    const [columns = [], ...rows] = parse(text, {
      bom: true,
      delimiter: separators[separator],
      skip_empty_lines: true,
      relax_column_count: true,
    });
    if (columns.length < 2)
      return {
        fault: 'The first line must hold at least two column names, separated by commas.',
      };
    return { separator, columns: columns.map((column) => column.trim()), rows };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return { fault: `This cannot be read as CSV: ${error.message}.` };
  }
}

/** A comma between digits, where commas do not separate columns, is a decimal mark. */
export const guessDecimal = ({ separator, rows }: TextTable): 'point' | 'comma' =>
  separator !== 'comma' &&
  rows.slice(0, 50).some((row) => row.some((cell) => /^-?\d+,\d+$/.test(cell.trim())))
    ? 'comma'
    : 'point';
