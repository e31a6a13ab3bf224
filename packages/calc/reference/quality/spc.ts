import { expect } from 'vitest';
import { groupedBy, readCsv } from '../csv.ts';

const expected = groupedBy('example', readCsv('quality/spc_expected.csv'));

/** Compares every row of one example with what `found` has under the row's quantity; no row may be left out. */
export function compareAll(example: string, found: Record<string, number | string>) {
  const rows = expected.get(example) ?? [];
  expect(Object.keys(found)).toEqual(rows.map((row) => row['quantity']));
  for (const { quantity = '', value = '', tolerance } of rows) {
    const figure = found[quantity];
    if (typeof figure === 'string') expect(figure, quantity).toBe(value);
    else
      expect(Math.abs(Number(figure) - Number(value)), `${quantity}: ${figure}`).toBeLessThanOrEqual(
        Number(tolerance),
      );
  }
}

export const column = (file: string, name: string) => readCsv(`quality/${file}.csv`).map((row) => Number(row[name]));
