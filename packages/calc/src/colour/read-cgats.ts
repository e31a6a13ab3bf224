import {
  type ColourFile,
  type FileConditions,
  type FileRow,
  readingsFrom,
  refusedFile,
} from './colour-file.ts';

interface Line {
  line: number;
  cells: string[];
}

const SIGNATURE = /^(CGATS\.\d+|ISO ?28178)\b/i;

/** Whether a text says that it is a CGATS.17 or ISO 28178 file. */
export const isCgats = (text: string): boolean => SIGNATURE.test(text.replace(/^\uFEFF/, '').trimStart());

/**
 * Readings out of a CGATS.17 or ISO 28178 keyword file: `LAB_L LAB_A LAB_B`, or a spectrum as `SPECTRAL_NM` with
 * `SPECTRAL_DEC` or `SPECTRAL_PCT`, or in columns named by their wavelength (`SPECTRAL_NM380`). A spectrum counts before
 * CIELAB of the same line, because it carries its colour under any light. Illuminant, observer and geometry come from the
 * header and are null where it is silent.
 *
 * Valid for one table with a line to each set; sets and fields must be as many as the header says, so that a file cut short
 * or shifted by a cell is refused and never read askew.
 * Source: ANSI CGATS.17-2009; ISO 28178:2009 (keywords from memory).
 * Errors: `malformed`. A line whose figures cannot be read is listed under `faults`.
 *
 * @example
 * readCgats('CGATS.17\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\n' +
 *   'NUMBER_OF_SETS 1\nBEGIN_DATA\n1 41.37 7.9 -30.2\nEND_DATA').readings[0].lab // { L: 41.37, a: 7.9, b: -30.2 }
 */
export function readCgats(text: string): ColourFile {
  if (!isCgats(text)) throw refusedFile('another text', 'a file that begins with CGATS.17 or ISO28178');
  const lines = linesOf(text.replace(/^\uFEFF/, ''));
  const fields = section(lines, 'DATA_FORMAT').flatMap(({ cells }) =>
    cells.map((cell) => cell.toUpperCase()),
  );
  const data = section(lines, 'DATA');
  if (lines.filter(({ cells }) => cells[0]?.toUpperCase() === 'BEGIN_DATA').length > 1)
    throw refusedFile('more than one table', 'one table in a file');
  agree(lines, 'NUMBER_OF_FIELDS', fields.length);
  agree(lines, 'NUMBER_OF_SETS', data.length);
  const columns = columnsOf(fields);
  const scale = fields.includes('SPECTRAL_PCT')
    ? 'percent'
    : fields.includes('SPECTRAL_DEC')
      ? 'fraction'
      : null;
  const whole = data.filter(({ cells }) => cells.length === fields.length);
  const askew = data
    .filter(({ cells }) => cells.length !== fields.length)
    .map(({ line, cells }) => ({
      line,
      message: `There are ${cells.length} values in this line; the file says ${fields.length} fields.`,
    }));
  const read =
    whole.length === 0 && askew.length > 0
      ? { readings: [], faults: [] }
      : readingsFrom(
          whole.map((line) => rowOf(line, columns)),
          scale,
        );
  return {
    format: 'CGATS',
    conditions: conditionsOf(lines),
    readings: read.readings,
    faults: [...askew, ...read.faults].sort((first, second) => first.line - second.line),
    ignored: fields.filter((_, index) => !columns.used.has(index)),
  };
}

function linesOf(text: string): Line[] {
  return text
    .split(/\r\n|\r|\n/)
    .map((row, index) => ({ line: index + 1, cells: cellsOf(row) }))
    .filter(({ cells }) => cells.length > 0);
}

/** Cells between blanks, or within double quotes; what follows # is a comment. */
function cellsOf(row: string): string[] {
  const cells: string[] = [];
  for (const [whole, quoted] of row.matchAll(/"((?:[^"]|"")*)"|#.*$|[^\s"#]+/g)) {
    if (quoted !== undefined) cells.push(quoted.replaceAll('""', '"'));
    else if (!whole.startsWith('#')) cells.push(whole);
  }
  return cells;
}

function section(lines: readonly Line[], name: string): Line[] {
  const place = (word: string) => lines.findIndex(({ cells }) => cells[0]?.toUpperCase() === word);
  const [begin, end] = [place(`BEGIN_${name}`), place(`END_${name}`)];
  if (begin < 0 || end < begin) throw refusedFile(`no whole ${name}`, `BEGIN_${name} with its END_${name}`);
  return lines.slice(begin + 1, end);
}

function agree(lines: readonly Line[], keyword: string, count: number): void {
  const stated = lines.find(({ cells }) => cells[0]?.toUpperCase() === keyword)?.cells[1];
  if (stated !== undefined && Number(stated) !== count)
    throw refusedFile(`${keyword} ${stated}`, `${keyword} ${count}, which is what the file holds`);
}

interface Columns {
  name: number;
  lab: [number, number, number] | null;
  spectrum: { nm: number | null; nmAt: number; valueAt: number }[];
  used: Set<number>;
}

function columnsOf(fields: readonly string[]): Columns {
  const named = ['SAMPLE_NAME', 'SAMPLE_ID'].map((name) => fields.indexOf(name)).find((at) => at >= 0) ?? -1;
  const lab = ['LAB_L', 'LAB_A', 'LAB_B'].map((name) => fields.indexOf(name)) as [number, number, number];
  const spectrum = fields.flatMap((field, index): Columns['spectrum'] => {
    const nm = /^(?:SPECTRAL_?)?(?:NM_?)?(\d{3})$/.exec(field)?.[1];
    if (nm !== undefined) return [{ nm: Number(nm), nmAt: -1, valueAt: index }];
    return field === 'SPECTRAL_NM' && /^SPECTRAL_(PCT|DEC)$/.test(fields[index + 1] ?? '')
      ? [{ nm: null, nmAt: index, valueAt: index + 1 }]
      : [];
  });
  const hasLab = lab.every((at) => at >= 0);
  if (!hasLab && spectrum.length === 0)
    throw refusedFile(fields.join(' ').slice(0, 200), 'fields LAB_L, LAB_A and LAB_B, or spectral ones');
  const used = new Set([
    ...['SAMPLE_NAME', 'SAMPLE_ID'].map((name) => fields.indexOf(name)),
    ...(hasLab ? lab : []),
    ...spectrum.flatMap(({ nmAt, valueAt }) => [nmAt, valueAt]),
  ]);
  return { name: named, lab: hasLab ? lab : null, spectrum, used };
}

function rowOf({ line, cells }: Line, { name, lab, spectrum }: Columns): FileRow {
  const cell = (index: number) => cells[index] ?? '';
  return {
    line,
    name: cell(name).slice(0, 120),
    zone: '',
    lab: lab === null ? null : { L: cell(lab[0]), a: cell(lab[1]), b: cell(lab[2]) },
    spectrum: spectrum.map(({ nm, nmAt, valueAt }) => ({
      nm: nm ?? Number(cell(nmAt)),
      text: cell(valueAt),
    })),
  };
}

function conditionsOf(lines: readonly Line[]): FileConditions {
  const end = lines.findIndex(({ cells }) => cells[0]?.toUpperCase() === 'BEGIN_DATA_FORMAT');
  const header = lines.slice(0, end);
  const word = (keyword: string) =>
    header
      .find(({ cells }) => cells[0]?.toUpperCase() === keyword)
      ?.cells.slice(1)
      .join(' ')
      .slice(0, 120) || null;
  const all = header.map(({ cells }) => cells.join(' ')).join('\n');
  const observer = /OBSERVER(?:_?ANGLE)?[\s=,:]+(\d{1,2})/i.exec(all)?.[1];
  return {
    instrument: word('INSTRUMENTATION'),
    geometry: word('MEASUREMENT_GEOMETRY'),
    illuminant:
      /ILLUMINA(?:NT|TION(?:_NAME)?)[\s=,:]+([A-Z]{1,3}\d{0,3})\b/i.exec(all)?.[1]?.toUpperCase() ?? null,
    observerDeg: observer === undefined ? null : Number(observer),
  };
}
