type Cell = string | number | boolean | null | undefined;

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
