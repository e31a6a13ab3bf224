import type { AnalysisReadings, NotebookMapping, NotebookPreview } from '@huelot/contracts';
import { cellNumber, readCsv, shownCell } from '../../http/read-csv.ts';
import { cellTime } from '../../http/read-day.ts';
import { fieldError } from '../../kernel/refusal.ts';

/** One line of a notebook; `sampledAt` is a local time of the shop. */
export interface NotebookRow {
  line: number;
  sampledAt: string;
  analyst: string;
  notes: string;
  readings: Extract<AnalysisReadings, { kind: 'plain' }>;
}
type Fault = NotebookPreview['faults'][number];

/** A notebook of ten years, weekly, in one file is a twentieth of this. */
const MAX_LINES = 10_000;

/** Reads a CSV file by its mapping; whatever cannot be read is a fault with its line and column. */
export function readNotebook(
  csv: string,
  mapping: NotebookMapping,
): { columns: string[]; rows: NotebookRow[]; faults: Fault[] } {
  const [heads = [], ...lines] = readCsv(csv, { separator: mapping.separator, path: 'csv' });
  const columns = heads.map((head) => head.trim());
  if (lines.length > MAX_LINES)
    throw fieldError('csv', `has more than ${MAX_LINES} lines: import it in parts`);
  const faults: Fault[] = [];
  const place = (name: string, path: string): number => {
    const at = columns.indexOf(name.trim());
    if (at < 0) throw fieldError(path, `there is no column ${name}; there are ${columns.join(', ')}`);
    return at;
  };
  const at = {
    sampledAt: place(mapping.sampledAt, 'mapping.sampledAt'),
    analyst: mapping.analyst === null ? null : place(mapping.analyst, 'mapping.analyst'),
    notes: mapping.notes === null ? null : place(mapping.notes, 'mapping.notes'),
    values: mapping.values.map(({ column }, index) => place(column, `mapping.values.${index}.column`)),
  };
  const rows = lines.flatMap((cells, index): NotebookRow[] => {
    const line = index + 2;
    const cell = (column: number | null) => (column === null ? '' : (cells[column] ?? '').trim());
    const sampledAt = cellTime(cell(at.sampledAt), mapping.dayOrder);
    const own: Fault[] =
      sampledAt === null
        ? [
            {
              line,
              column: mapping.sampledAt,
              message: `${shownCell(cell(at.sampledAt))} is not a date written as ${mapping.dayOrder}`,
            },
          ]
        : [];
    const values = mapping.values.flatMap((value, which) => {
      const text = cell(at.values[which] ?? null);
      if (text === '') return [];
      const number = cellNumber(text, mapping.decimal);
      if (number === null || Math.abs(number) > 1e6) {
        own.push({
          line,
          column: value.column,
          message: `${shownCell(text)} is not a number with a decimal ${mapping.decimal}`,
        });
        return [];
      }
      const { component, unit, referenceTemperatureC, standardUncertainty } = value;
      return [
        {
          component,
          unit,
          referenceTemperatureC,
          standardUncertainty,
          value: value.isPercent ? shareOf(number) : number,
        },
      ];
    });
    if (own.length === 0 && values.length === 0)
      own.push({ line, column: mapping.values[0]?.column ?? '', message: 'no figure stands in this line' });
    faults.push(...own);
    if (own.length > 0 || sampledAt === null) return [];
    return [
      {
        line,
        sampledAt,
        analyst: cut(cell(at.analyst), 100),
        notes: cut(cell(at.notes), 1000),
        readings: { kind: 'plain', values },
      },
    ];
  });
  return { columns, rows, faults };
}

/** Cut to a length, without half of a pair at its end. */
const cut = (text: string, most: number) => text.slice(0, most).replace(/\p{Surrogate}$/u, '');

/** Per cent as a share, without the last bits that a division of binary numbers leaves. */
const shareOf = (percent: number): number => Number((percent / 100).toPrecision(15));
