import { SINGLE_NORMAL } from './data/single-normal.ts';
import { SINGLE_REDUCED } from './data/single-reduced.ts';
import { SINGLE_TIGHTENED } from './data/single-tightened.ts';

/** AQL keys exactly as printed: percent nonconforming up to 10, nonconformities per 100 pieces throughout. */
// prettier-ignore
export const AQLS = [
  '0.010', '0.015', '0.025', '0.040', '0.065', '0.10', '0.15', '0.25', '0.40', '0.65', '1.0', '1.5', '2.5', '4.0',
  '6.5', '10', '15', '25', '40', '65', '100', '150', '250', '400', '650', '1000',
] as const;

export type Aql = (typeof AQLS)[number];

export const SEVERITIES = ['normal', 'tightened', 'reduced'] as const;

export type Severity = (typeof SEVERITIES)[number];

export interface Plan {
  letter: string;
  n: number;
  ac: number;
  re: number;
}

type Cell = { leads: 'down' | 'up' } | { ac: number; re: number };

interface Row {
  letter: string;
  n: number;
  cells: ReadonlyMap<string, Cell>;
}

const TABLES: Record<Severity, readonly Row[]> = {
  normal: parseTable(SINGLE_NORMAL),
  tightened: parseTable(SINGLE_TIGHTENED),
  reduced: parseTable(SINGLE_REDUCED),
};

/** The plan a cell holds, or the one its arrow leads to in the same AQL column: letter and sample size move with it. */
export function planAt(place: { severity: Severity; letter: string; aql: Aql }): Plan {
  const rows = TABLES[place.severity];
  let row = rows.findIndex(({ letter }) => letter === place.letter);
  for (;;) {
    const { letter, n, cells } = at(rows, row);
    const cell = cells.get(place.aql);
    if (!cell) throw new Error(`table ${place.severity} has no cell at ${letter}, ${place.aql}`);
    if ('ac' in cell) return { letter, n, ...cell };
    row += cell.leads === 'down' ? 1 : -1;
  }
}

function parseTable(text: string): Row[] {
  const [[, ...aqls] = [], ...rows] = text
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/));
  return rows.map(([letter = '', n, ...cells]) => ({
    letter,
    n: Number(n),
    cells: new Map(
      aqls.flatMap((aql, column) => parseCell(cells[column]).map((cell) => [aql, cell] as const)),
    ),
  }));
}

function parseCell(text: string | undefined): Cell[] {
  if (text === 'v') return [{ leads: 'down' }];
  if (text === '^') return [{ leads: 'up' }];
  const plan = /^(\d+)\/(\d+)$/.exec(text ?? '');
  return plan ? [{ ac: Number(plan[1]), re: Number(plan[2]) }] : [];
}

function at(rows: readonly Row[], index: number): Row {
  const row = rows[index];
  if (!row) throw new Error('an arrow leads out of the sampling table');
  return row;
}
