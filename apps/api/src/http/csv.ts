import type { FastifyReply } from 'fastify';

export type Cell = string | number | boolean | null | undefined;

/** A cell that a spreadsheet would read as a formula gets a leading apostrophe; numbers stay numbers. */
const escapeFormula = (text: string) => (/^[=+\-@\t\0\r]/.test(text) ? `'${text}` : text);
const quoteCell = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
const formatCell = (cell: Cell) =>
  cell === null || cell === undefined
    ? ''
    : typeof cell === 'string'
      ? quoteCell(escapeFormula(cell))
      : String(cell);

/**
 * One record of a CSV file (RFC 4180), with its line end.
 *
 * @example
 * csvLine(['=1+1', -3, 'a "b"']) // `'=1+1,-3,"a ""b"""\r\n`
 */
export const csvLine = (cells: readonly Cell[]): string => `${cells.map(formatCell).join(',')}\r\n`;

/** In front of a file it says that the text is UTF-8: spreadsheet programs take it for the system's own code otherwise. */
export const byteOrderMark = '\uFEFF';

/**
 * The text of a file to save, with the headers that say so; the heads of the columns come first, units in their names.
 *
 * @example
 * return csvFile(reply, { name: 'tanks', heads: ['code', 'workingVolumeL'], rows: [['T4', 800]] });
 */
export function csvFile(
  reply: FastifyReply,
  { name, heads, rows }: { name: string; heads: readonly string[]; rows: readonly (readonly Cell[])[] },
): string {
  reply.type('text/csv; charset=utf-8').header('content-disposition', `attachment; filename="${name}.csv"`);
  const lines = [heads, ...rows.slice(0, csvLimit)].map(csvLine).join('');
  return byteOrderMark + lines + (rows.length > csvLimit ? csvLine([cut]) : '');
}

/** The most records a file of a list holds; a list reads one more, and the file ends by saying so. */
export const csvLimit = 100_000;
const cut = `Cut off here after ${csvLimit} records. Narrow the list to save the others.`;
