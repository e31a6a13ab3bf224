import type { BankMapping } from '@huelot/contracts';
import { guessDayOrder } from '$lib/features/notebook-import/notebook-table.ts';
import { guessDecimal, type TextTable } from '$lib/features/table-import/text-table.ts';

/** What a column of a bank's list holds. */
export type BankUse = 'nothing' | 'paidOn' | 'amount' | 'text';
export interface BankColumn {
  column: string;
  holds: BankUse;
}

/** What the columns most likely hold, by their heads in the languages that banks write them in; the person has the last word. */
export function guessBankUses({ columns }: TextTable): BankColumn[] {
  const taken = new Set<BankUse>();
  const once = (holds: BankUse): BankUse => (taken.has(holds) ? 'nothing' : (taken.add(holds), holds));
  return columns.map((column): BankColumn => {
    const head = column.toLowerCase();
    if (/amount|betrag|umsatz|montant|importo|importe|bedrag|credit/.test(head))
      return { column, holds: once('amount') };
    if (/date|datum|valuta|booking|booked|fecha|data/.test(head)) return { column, holds: once('paidOn') };
    if (
      /text|purpose|zweck|remittance|detail|reference|name|payer|libell|causale|concepto|omschrijving/.test(
        head,
      )
    )
      return { column, holds: 'text' };
    return { column, holds: 'nothing' };
  });
}

/** How the list writes days and amounts, as far as its cells tell. */
export function guessWriting(
  table: TextTable,
  uses: readonly BankColumn[],
): Pick<BankMapping, 'dayOrder' | 'decimal'> {
  const days = uses.findIndex(({ holds }) => holds === 'paidOn');
  const amounts = uses.findIndex(({ holds }) => holds === 'amount');
  const isComma = table.rows.slice(0, 50).some((row) => /,\d{1,2}$/.test((row[amounts] ?? '').trim()));
  return {
    dayOrder: guessDayOrder(table.rows.map((row) => row[days] ?? '')),
    decimal: isComma ? 'comma' : guessDecimal(table),
  };
}

/** The mapping as it is sent, or what is still missing. */
export function bankMappingOf({
  uses,
  ...writing
}: { uses: readonly BankColumn[] } & Omit<BankMapping, 'paidOn' | 'amount' | 'texts'>):
  { mapping: BankMapping } | { missing: string } {
  const holding = (use: BankUse) => uses.filter(({ holds }) => holds === use).map(({ column }) => column);
  const [paidOn] = holding('paidOn');
  const [amount] = holding('amount');
  const texts = holding('text');
  if (paidOn === undefined) return { missing: 'Say which column holds the day.' };
  if (amount === undefined) return { missing: 'Say which column holds the amount.' };
  if (texts.length === 0) return { missing: 'Say which columns hold what the payer wrote.' };
  return { mapping: { paidOn, amount, texts, ...writing } };
}
