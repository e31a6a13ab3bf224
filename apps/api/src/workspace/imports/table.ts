import { convert, type Unit } from '@huelot/calc';
import {
  importFields,
  importUnits,
  type ImportBody,
  type ImportKind,
  type ImportMeasure,
} from '@huelot/contracts';
import { cellNumber, readCsv, shownCell } from '../../http/read-csv.ts';
import { fieldError } from '../../kernel/refusal.ts';

/** One line of a table: what its cells say, by field. */
export interface TableLine {
  line: number;
  /** As typed; an empty cell is an empty text. */
  text: Record<string, string>;
  /** In the unit of storage; null where the cell is empty. Only fields with a measure are here. */
  figures: Record<string, number | null>;
}
export interface Fault {
  line: number;
  column: string;
  message: string;
}
export interface Table {
  lines: TableLine[];
  count: number;
  faults: Fault[];
  /** The column that holds a field, for faults that a rule finds later. */
  columnOf: (field: string) => string;
}

/** A list of all customers or parts of a small shop is below this; a longer one comes in parts. */
const MAX_LINES = 1000;

const storedUnit: Record<ImportMeasure, Unit | null> = {
  length: 'mm',
  area: 'mm2',
  mass: 'kg',
  density: 'kgPerM3',
  heatCapacity: null,
  share: null,
};
const factors: Record<string, number> = { JPerKgK: 1, JPerGK: 1000, percent: 0.01, fraction: 1 };

function inStorage(value: number, { measure, unit }: { measure: ImportMeasure; unit: string }): number {
  const to = storedUnit[measure];
  return to === null
    ? Number((value * (factors[unit] ?? 1)).toPrecision(15))
    : convert({ value, from: unit as Unit, to });
}

/** Reads a table by its matched columns; whatever cannot be read is a fault with its line and column. */
export function readTable(kind: ImportKind, body: ImportBody): Table {
  const [heads = [], ...records] = readCsv(body.text, { separator: body.separator, path: 'text' });
  const columns = heads.map((head) => head.trim());
  if (records.length > MAX_LINES)
    throw fieldError('text', `has more than ${MAX_LINES} lines: import it in parts`);
  const matched = matchColumns(kind, body, columns);
  const columnOf = (key: string) =>
    matched.find(({ field }) => field.key === key)?.column ?? columns[0] ?? '';
  const faults: Fault[] = [];
  const lines = records.map((cells, index): TableLine => {
    const line = index + 2;
    const row: TableLine = { line, text: {}, figures: {} };
    for (const { field, at, column, unit } of matched) {
      const cell = (cells[at] ?? '').trim();
      row.text[field.key] = cell;
      if (field.required && cell === '') {
        faults.push({ line, column, message: 'must not be empty' });
        continue;
      }
      if (field.measure === null) continue;
      const value = cell === '' ? null : cellNumber(cell, body.decimal);
      if (cell !== '' && value === null)
        faults.push({
          line,
          column,
          message: `${shownCell(cell)} is no number with a decimal ${body.decimal}`,
        });
      row.figures[field.key] =
        value === null || unit === null ? null : inStorage(value, { measure: field.measure, unit });
    }
    return row;
  });
  return { lines, count: records.length, faults, columnOf };
}

function matchColumns(kind: ImportKind, { columns: asked }: ImportBody, columns: readonly string[]) {
  const fields = importFields[kind];
  const matched = asked.map(({ column, field: key, unit }, index) => {
    const path = (name: string) => `columns.${index}.${name}`;
    const at = columns.indexOf(column.trim());
    if (at < 0)
      throw fieldError(path('column'), `there is no column ${column}; there are ${columns.join(', ')}`);
    const field = fields.find((one) => one.key === key);
    if (field === undefined)
      throw fieldError(path('field'), `must be one of ${fields.map((one) => one.key).join(', ')}`);
    if (asked.findIndex((one) => one.field === key) !== index)
      throw fieldError(path('field'), `${field.label} is matched to two columns`);
    const units = field.measure === null ? [] : importUnits[field.measure].map((one) => one.key);
    if (field.measure !== null && (unit === null || !units.includes(unit)))
      throw fieldError(path('unit'), `the figures of ${field.label} need their unit: ${units.join(', ')}`);
    return { field, at, column, unit };
  });
  const missing = fields.filter(({ key, required }) => required && !asked.some(({ field }) => field === key));
  if (missing.length > 0)
    throw fieldError('columns', `no column holds ${missing.map(({ label }) => label).join(', ')}`);
  return matched;
}
