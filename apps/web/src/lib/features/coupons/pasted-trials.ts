import { CsvError, parse } from 'csv-parse/browser/esm/sync';
import {
  ColourGrade,
  type CouponColumn,
  couponColumnsOf,
  type TankContents,
  trialFactorKeys,
  trialFactorsOf,
  trialOutcomesOf,
} from '@huelot/contracts';
import type { TrialValues } from './coupon-form.ts';

export interface Pasted {
  trials: TrialValues[];
  /** `line 3, voltageV: “x” is not a number` */
  faults: string[];
}

/**
 * Rows of a spreadsheet, separated by tabs, semicolons or commas: under heads in any order, or without heads in the order of
 * the columns that every row of such a bath needs. A head that is no column is a fault, and so is a needed column that is
 * missing. Temperatures in °C, times in seconds; `inPercent` where a mass fraction is written as 50 and not as 0.5.
 * Where one cell cannot be read, no row is taken.
 *
 * @example
 * readPasted('K1\t50\t2,2\t480\t50\tinterference\t40\t8\t-30\t2026-03-02\tL. Frost', { contents: 'hot-caustic', inPercent: true }).trials[0]?.strength // 0.5
 */
export function readPasted(
  text: string,
  { contents, inPercent }: { contents: TankContents; inPercent: boolean },
): Pasted {
  const columns = couponColumnsOf(contents);
  const factors = trialFactorsOf(contents);
  const outcomes = trialOutcomesOf(contents);
  const head = text.slice(0, text.search(/[\r\n]|$/));
  const delimiter = head.includes('\t') ? '\t' : head.includes(';') ? ';' : ',';
  let lines: string[][];
  try {
    lines = parse(text, { bom: true, delimiter, skip_empty_lines: true, relax_column_count: true });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return { trials: [], faults: [`These rows cannot be read: ${error.message}.`] };
  }
  const first = lines[0] ?? [];
  const hasHeads = isHeads(first);
  const { places, faults }: Places = hasHeads
    ? placesUnder(first, columns)
    : { places: columns.required, faults: [] };
  if (faults.length > 0) return { trials: [], faults };
  const trials = lines.slice(hasHeads ? 1 : 0).map((cells, row) => {
    const line = row + (hasHeads ? 2 : 1);
    const fault = (column: CouponColumn, words: string) => faults.push(`line ${line}, ${column}: ${words}`);
    const cell = (column: CouponColumn) => (cells[places.indexOf(column)] ?? '').trim();
    const number = (column: CouponColumn, isOptional = false): number | null => {
      const written = cell(column);
      if (written === '') {
        if (!isOptional) fault(column, 'is empty');
        return null;
      }
      const plain = (delimiter === ',' ? written : written.replace(',', '.')).replace('−', '-');
      if (/^-?\d{1,9}(\.\d{1,12})?$/.test(plain)) return Number(plain);
      fault(column, `“${written.slice(0, 40)}” is not a number`);
      return null;
    };
    const oneOf = <T extends string>(column: CouponColumn, allowed: readonly T[]): T | null => {
      const written = cell(column).toLowerCase();
      const found = allowed.find((one) => one === written) ?? null;
      if (found === null) fault(column, `must be one of ${allowed.join(', ')}`);
      return found;
    };
    const outcome = oneOf('outcome', outcomes);
    const protects = cell('protects') === '' ? 'unknown' : oneOf('protects', ['yes', 'no', 'unknown']);
    const grade = cell('grade') === '' ? null : oneOf('grade', ColourGrade.options);
    const madeOn = dayOf(cell('madeOn'));
    if (madeOn === null) fault('madeOn', 'must be a day like 2026-03-31 or 31.3.2026');
    if (cell('madeBy') === '') fault('madeBy', 'is empty');
    const figures = trialFactorKeys.map((factor) => {
      const known = factors.find((one) => one.factor === factor);
      const value = known === undefined ? null : number(factor, !known.isRequired);
      const isShare = factor === 'strength' && value !== null && inPercent;
      return [factor, isShare ? Number((value / 100).toPrecision(12)) : value] as const;
    });
    return {
      ...(Object.fromEntries(figures) as Record<(typeof figures)[number][0], number | null>),
      mark: cell('mark'),
      outcome: outcome ?? 'none',
      protects: protects === 'yes' ? true : protects === 'no' ? false : null,
      grade,
      lab: { L: number('L', true), a: number('a', true), b: number('b', true) },
      madeOn: madeOn ?? '',
      madeBy: cell('madeBy'),
      run: null,
    };
  });
  return { trials: faults.length === 0 ? trials : [], faults };
}

/** Heads hold no figures; the second cell of a row without heads is its temperature. */
const isHeads = (cells: readonly string[]): boolean => cells[1] !== undefined && !/\d/.test(cells[1]);

/** Which column stands at which place, and what is wrong with the heads. */
interface Places {
  places: readonly (CouponColumn | undefined)[];
  faults: string[];
}

/** Heads may come in any order and case. */
function placesUnder(
  heads: readonly string[],
  { required, optional }: ReturnType<typeof couponColumnsOf>,
): Places {
  const all = [...required, ...optional];
  const columnOf = (head: string) => all.find((column) => column.toLowerCase() === head.trim().toLowerCase());
  const places = heads.map(columnOf);
  const allowed = `the heads are ${all.join(', ')}`;
  const unknown = heads.filter((head) => head.trim() !== '' && columnOf(head) === undefined);
  const missing = required.filter((column) => !places.includes(column));
  const twice = all.filter((column) => places.filter((one) => one === column).length > 1);
  return {
    places,
    faults: [
      ...unknown.map((head) => `line 1: “${head.trim().slice(0, 40)}” is no column; ${allowed}`),
      ...missing.map((column) => `line 1: ${column} is missing; ${allowed}`),
      ...twice.map((column) => `line 1: ${column} stands twice`),
    ],
  };
}

/** A day as ISO 8601 writes it; days and months with strokes are not guessed at. */
function dayOf(written: string): string | null {
  const [, day = '', month = '', year = ''] = /^(\d{1,2})\.(\d{1,2})\.(\d{4})$/.exec(written) ?? [];
  const iso = year === '' ? written : [year, month.padStart(2, '0'), day.padStart(2, '0')].join('-');
  const date = new Date(`${iso}T00:00:00Z`);
  const isReal = !Number.isNaN(date.getTime()) && date.toISOString().startsWith(iso);
  return /^\d{4}-\d{2}-\d{2}$/.test(iso) && isReal ? iso : null;
}
