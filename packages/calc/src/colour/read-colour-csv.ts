import {
  type ColourFile,
  type FileConditions,
  type FileRow,
  readingsFrom,
  refusedFile,
} from './colour-file.ts';

/** What each head may be called, after capitals, blanks, stars and brackets are taken away. */
const HEADS: Readonly<Record<string, readonly string[]>> = {
  name: ['place', 'name', 'sample', 'samplename', 'sampleid', 'id'],
  zone: ['zone'],
  L: ['l', 'labl', 'ciel'],
  a: ['a', 'laba', 'ciea'],
  b: ['b', 'labb', 'cieb'],
  instrument: ['instrument'],
  geometry: ['geometry'],
  illuminant: ['illuminant'],
  observerDeg: ['observer', 'observerdeg'],
};

/**
 * Readings out of a table with separated cells: a head line that names `L`, `a` and `b` (stars allowed) or wavelengths in
 * nanometres, beside `place`, `zone`, `instrument`, `geometry`, `illuminant` and `observer` in any order. Columns are taken by
 * their head and never by their place; a head that means nothing here is listed and left out.
 *
 * Cells are separated by tab, semicolon or comma, whichever the head line has first in this order; with the first two a
 * decimal comma is read. Wavelengths 360 to 780 nm. Values of a spectrum are per cent where the brightest of the file is
 * above 1.5.
 * Source: none; the layout is the package's own.
 * Errors: `malformed` for a missing or doubled head, or conditions that change within the file. A line whose figures cannot
 * be read is listed under `faults`.
 *
 * @example
 * readColourCsv('place;L*;a*;b*\nblade, left;41,37;7,9;-30,2').readings[0].lab // { L: 41.37, a: 7.9, b: -30.2 }
 */
export function readColourCsv(text: string): ColourFile {
  const lines = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .map((row, index) => ({ line: index + 1, row }))
    .filter(({ row }) => row.trim() !== '');
  const head = lines[0]?.row ?? '';
  const separator = ['\t', ';'].find((mark) => head.includes(mark)) ?? ',';
  const heads = cellsOf(head, separator);
  const columns = columnsOf(heads);
  const cells = lines.slice(1).map(({ line, row }) => ({ line, cells: cellsOf(row, separator) }));
  const faults = cells
    .filter((one) => one.cells.length > heads.length)
    .map(({ line }) => ({
      line,
      message: `This line has more cells than the head line, which has ${heads.length}.`,
    }));
  const whole = cells.filter((one) => one.cells.length <= heads.length);
  const read =
    whole.length === 0 && faults.length > 0
      ? { readings: [], faults: [] }
      : readingsFrom(
          whole.map((one) => rowOf(one, columns, separator)),
          null,
        );
  return {
    format: 'CSV',
    conditions: conditionsOf(whole, columns),
    readings: read.readings,
    faults: [...faults, ...read.faults].sort((first, second) => first.line - second.line),
    ignored: columns.ignored,
  };
}

/** Cells of a line; a quoted one may hold the separator, and two quotes are one. */
function cellsOf(row: string, separator: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < row.length; i++) {
    const mark = row.charAt(i);
    if (quoted && mark === '"' && row.charAt(i + 1) === '"') {
      cell += '"';
      i++;
    } else if (mark === '"') quoted = !quoted;
    else if (mark === separator && !quoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += mark;
  }
  return [...cells, cell.trim()];
}

interface Columns {
  at: Record<string, number>;
  spectrum: { nm: number; at: number }[];
  ignored: string[];
}

function columnsOf(heads: readonly string[]): Columns {
  const at: Record<string, number> = {};
  const spectrum: Columns['spectrum'] = [];
  const ignored: string[] = [];
  heads.forEach((head, index) => {
    const plain = head.toLowerCase().replace(/[\s*_()°-]/g, '');
    const nm = Number(/^(?:r)?(\d{3})(?:nm)?$/.exec(plain)?.[1]);
    const field = Object.keys(HEADS).find((name) => HEADS[name]?.includes(plain));
    if (nm >= 360 && nm <= 780) {
      if (spectrum.some((one) => one.nm === nm)) throw refusedFile(head, 'each wavelength once');
      spectrum.push({ nm, at: index });
    } else if (field === undefined) ignored.push(head);
    else if (at[field] === undefined) at[field] = index;
    else throw refusedFile(head, `each head once; ${field} is named twice`);
  });
  const hasLab = ['L', 'a', 'b'].every((name) => at[name] !== undefined);
  if (!hasLab && spectrum.length === 0)
    throw refusedFile(heads.join(', ').slice(0, 200), 'a head line that names L, a and b, or wavelengths');
  return { at, spectrum: spectrum.sort((first, second) => first.nm - second.nm), ignored };
}

function rowOf(
  { line, cells }: { line: number; cells: string[] },
  columns: Columns,
  separator: string,
): FileRow {
  const { at, spectrum } = columns;
  const text = (field: string) => cells[at[field] ?? -1] ?? '';
  /** Two signs in one cell part thousands or are a slip: the cell stays as it is, and is refused. */
  const decimal = (cell: string) => (separator === ',' || cell.includes('.') ? cell : cell.replace(',', '.'));
  const hasLab = at['L'] !== undefined && at['a'] !== undefined && at['b'] !== undefined;
  return {
    line,
    name: text('name').slice(0, 120),
    zone: text('zone').slice(0, 60),
    lab: hasLab ? { L: decimal(text('L')), a: decimal(text('a')), b: decimal(text('b')) } : null,
    spectrum: spectrum.map((one) => ({ nm: one.nm, text: decimal(cells[one.at] ?? '') })),
  };
}

function conditionsOf(rows: readonly { cells: string[] }[], { at }: Columns): FileConditions {
  const only = (field: string): string | null => {
    const said = new Set(rows.map(({ cells }) => cells[at[field] ?? -1] ?? '').filter(Boolean));
    if (said.size > 1)
      throw refusedFile(`${field} ${[...said].join(', ').slice(0, 120)}`, `one ${field} in a file`);
    return [...said][0]?.slice(0, 120) ?? null;
  };
  const observer = /^(\d{1,2})/.exec(only('observerDeg') ?? '')?.[1];
  return {
    instrument: only('instrument'),
    geometry: only('geometry'),
    illuminant: only('illuminant')?.toUpperCase() ?? null,
    observerDeg: observer === undefined ? null : Number(observer),
  };
}
