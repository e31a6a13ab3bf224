import type { BankPreview, bookBankLines, previewBankLines } from '@huelot/contracts';
import type { z } from 'zod';
import { inTransaction, type Db } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import { readBankLines } from './bank-lines.ts';
import { matchBankLine } from './match-bank.ts';
import { readBooked, readOpenInvoices } from './payment-queries.ts';
import { book } from './payments.ts';

const MAX_FAULTS = 200;

/** Which invoices the lines of a bank's list may pay. Nothing is booked by it. */
export async function previewBank(
  db: Db,
  { csv, mapping }: z.output<typeof previewBankLines.body>,
): Promise<BankPreview> {
  const { lines, leftOut, faults } = readBankLines(csv, mapping);
  const keys = lines.map(({ key }) => key);
  const [open, booked] = await Promise.all([
    readOpenInvoices(db.execute, mapping.currency),
    readBooked(db.execute, keys),
  ]);
  return {
    lines: lines.map((line) => {
      const bookedOn = booked.find(({ key }) => key === line.key)?.number ?? null;
      const found = bookedOn === null ? matchBankLine(line, open) : null;
      return { ...line, match: found?.match ?? null, invoice: found?.invoice ?? null, bookedOn };
    }),
    ...{ leftOut, faults: faults.slice(0, MAX_FAULTS), faultCount: faults.length, open },
  };
}

/** Books what a person confirmed. The list is read again: amounts and days are those of the bank, not of the request. */
export function bookBank(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof bookBankLines.body> },
): Promise<{ booked: number }> {
  const { lines } = readBankLines(input.csv, input.mapping);
  return inTransaction(db, async (tx) => {
    const inOrder = input.bookings
      .map((booking, index) => ({ ...booking, path: `bookings.${index}.` }))
      .toSorted((one, other) => one.invoiceId - other.invoiceId);
    const open = await readOpenInvoices(
      tx.execute,
      input.mapping.currency,
      inOrder.map(({ invoiceId }) => invoiceId),
    );
    for (const { key, invoiceId, moreThanOpen, path } of inOrder) {
      const line = lines.find((one) => one.key === key);
      if (line === undefined)
        throw fieldError(`${path}key`, 'is not a line of this list that pays something in');
      if (!open.some(({ id }) => id === invoiceId))
        throw fieldError(`${path}invoiceId`, `is not an issued invoice in ${input.mapping.currency}`);
      const [booked] = await readBooked(tx.execute, [key]);
      if (booked !== undefined)
        throw new DomainError('conflict', `Line ${line.line} is booked on ${booked.number} already.`);
      const { amount, paidOn, text } = line;
      const payment = { amount, paidOn, reference: text, moreThanOpen, bankKey: key };
      await book(tx, { actor, id: invoiceId, path, input: payment });
    }
    return { booked: inOrder.length };
  });
}
