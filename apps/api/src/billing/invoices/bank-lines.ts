import { createHash } from 'node:crypto';
import { exactAmount, type BankMapping, type BankPreview } from '@huelot/contracts';
import { readCsv, shownCell } from '../../http/read-csv.ts';
import { cellTime } from '../../http/read-day.ts';
import { fieldError } from '../../kernel/refusal.ts';

/** A line of the bank that pays something in. */
export interface BankLine {
  line: number;
  key: string;
  paidOn: string;
  amount: string;
  text: string;
}
type Fault = BankPreview['faults'][number];

/** A list of a year of a small shop is a tenth of this. */
const MAX_LINES = 5_000;

/** Reads a bank's list by its mapping; whatever cannot be read is a fault with its line and column. */
export function readBankLines(
  csv: string,
  mapping: BankMapping,
): { lines: BankLine[]; leftOut: number; faults: Fault[] } {
  const [heads = [], ...rows] = readCsv(csv, { separator: mapping.separator, path: 'csv' });
  if (rows.length > MAX_LINES)
    throw fieldError('csv', `has more than ${MAX_LINES} lines: import it in parts`);
  const columns = heads.map((head) => head.trim());
  const place = (name: string, path: string): number => {
    const index = columns.indexOf(name.trim());
    if (index < 0)
      throw fieldError(path, `there is no column ${name}; there are ${columns.join(', ').slice(0, 400)}`);
    return index;
  };
  const at = {
    paidOn: place(mapping.paidOn, 'mapping.paidOn'),
    amount: place(mapping.amount, 'mapping.amount'),
    texts: mapping.texts.map((name, index) => place(name, `mapping.texts.${index}`)),
  };
  const faults: Fault[] = [];
  const seen = new Map<string, number>();
  let leftOut = 0;
  const lines = rows.flatMap((cells, index): BankLine[] => {
    const line = index + 2;
    const cell = (column: number) => (cells[column] ?? '').trim();
    const paidOn = cellTime(cell(at.paidOn), mapping.dayOrder)?.slice(0, 10) ?? null;
    const amount = cellAmount(cell(at.amount), mapping);
    if (paidOn === null)
      faults.push({
        ...{ line, column: mapping.paidOn },
        message: `${shownCell(cell(at.paidOn))} is not a date written as ${mapping.dayOrder}`,
      });
    if (amount === null)
      faults.push({
        ...{ line, column: mapping.amount },
        message: `${shownCell(cell(at.amount))} is not an amount in ${mapping.currency} with a decimal ${mapping.decimal}`,
      });
    if (paidOn === null || amount === null) return [];
    if (amount.startsWith('-') || Number(amount) === 0) {
      leftOut += 1;
      return [];
    }
    const text = at.texts.map(cell).filter(Boolean).join(' ').replaceAll(/\s+/g, ' ').slice(0, 300);
    const said = JSON.stringify([paidOn, amount, mapping.currency, text]);
    // Two payments of a day that say the same are told apart by which of them it is.
    const nth = seen.get(said) ?? 0;
    seen.set(said, nth + 1);
    return [{ line, key: keyOf(said, nth), paidOn, amount, text }];
  });
  return { lines, leftOut, faults };
}

const keyOf = (said: string, nth: number) =>
  createHash('sha256').update(`${nth} ${said}`).digest('hex').slice(0, 40);

/** An amount as banks write it: thousands parted by the sign that is no decimal one or by a space, and a sign in front. */
function cellAmount(text: string, { decimal, currency }: BankMapping): string | null {
  const [point, thousands] = decimal === 'comma' ? [',', '.'] : ['.', ','];
  const match = /^([+-]?)(\d{1,3}(?:[.,' \u00a0\u202f]\d{3})+|\d+)(?:([.,])(\d{1,3}))?$/.exec(text);
  if (match === null) return null;
  const [, sign = '', whole = '', separator = point, fraction = ''] = match;
  if (separator !== point || whole.includes(point)) return null;
  if (whole.includes(thousands) && /[' \u00a0\u202f]/.test(whole)) return null;
  const amount = exactAmount(`${whole.replaceAll(/\D/g, '')}${fraction && `.${fraction}`}`, currency);
  return amount === null ? null : `${sign === '-' ? '-' : ''}${amount}`;
}
