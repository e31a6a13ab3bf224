import { expect, it } from 'vitest';
import { readTable, type TextTable } from '$lib/features/table-import/text-table.ts';
import { bankMappingOf, guessBankUses, guessWriting } from './bank-table.ts';

const table = readTable(
  'Buchungsdatum;Betrag;Name;Verwendungszweck\n24.11.2026;1.250,00;Row;INV-00001',
) as TextTable;

it('guesses day, amount and words, and how they are written', () => {
  const uses = guessBankUses(table);
  expect(uses.map(({ holds }) => holds)).toEqual(['paidOn', 'amount', 'text', 'text']);
  expect(guessWriting(table, uses)).toEqual({ dayOrder: 'day-month-year', decimal: 'comma' });
});

it('says what is missing', () => {
  const writing = {
    dayOrder: 'day-month-year',
    decimal: 'comma',
    separator: 'semicolon',
    currency: 'EUR',
  } as const;
  const uses = guessBankUses(table);
  expect(bankMappingOf({ uses, ...writing })).toMatchObject({
    mapping: { amount: 'Betrag', texts: ['Name', 'Verwendungszweck'] },
  });
  for (const missing of ['paidOn', 'amount', 'text'])
    expect(
      bankMappingOf({
        uses: uses.map((use) => (use.holds === missing ? { ...use, holds: 'nothing' } : use)),
        ...writing,
      }),
    ).toHaveProperty('missing');
});
