import type { FastifyReply } from 'fastify';

export type Cell = string | number | boolean | null | undefined;

/** A cell that a spreadsheet would read as a formula gets a leading apostrophe; numbers stay numbers. */
const neutral = (text: string) => (/^[=+\-@\t\0\r]/.test(text) ? `'${text}` : text);
const quoted = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
const written = (cell: Cell) =>
  cell === null || cell === undefined ? '' : typeof cell === 'string' ? quoted(neutral(cell)) : String(cell);

/**
 * One record of a CSV file (RFC 4180), with its line end.
 *
 * @example
 * csvLine(['=1+1', -3, 'a "b"']) // `'=1+1,-3,"a ""b"""\r\n`
 */
export const csvLine = (cells: readonly Cell[]): string => `${cells.map(written).join(',')}\r\n`;

/**
 * The text of a file to save, with the headers that say so; the heads of the columns come first, units in their names.
 *
 * @example
 * return csvFile(reply, { name: 'tanks', heads: ['code', 'workingVolumeL'], rows: [['T4', 800]] });
 */
export function csvFile(
  reply: FastifyReply,
  of: { name: string; heads: readonly string[]; rows: readonly (readonly Cell[])[] },
): string {
  reply
    .type('text/csv; charset=utf-8')
    .header('content-disposition', `attachment; filename="${of.name}.csv"`);
  return [of.heads, ...of.rows].map(csvLine).join('');
}

/** The most records a file of a list holds. */
export const csvLimit = 100_000;
