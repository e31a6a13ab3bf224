import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';

/** The rows of a reference file beside this one, every field as text under its column's name. */
export function readCsv(file: string): Record<string, string>[] {
  return parse(readFileSync(new URL(file, import.meta.url)), { columns: true, comment: '#' });
}

/** Rows gathered by what they hold in one column, in the order of the file. */
export function groupedBy(column: string, rows: readonly Record<string, string>[]): Map<string, Record<string, string>[]> {
  const groups = new Map<string, Record<string, string>[]>();
  for (const row of rows) {
    const key = row[column] ?? '';
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return groups;
}
