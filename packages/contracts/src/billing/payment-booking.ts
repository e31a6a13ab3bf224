import { z } from 'zod';
import { Currency } from '../kernel/currencies.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Count, Csv, Day, Id, isStorable, Line, Money, PathId, Text, unstorable } from '../kernel/scalars.ts';
import { Invoice } from './invoices.ts';

export const recordPayment = defineCommand({
  name: 'recordPayment',
  tags: ['billing'],
  path: '/invoices/:id/payments',
  access: 'invoices.write',
  summary: 'Book what was paid for an invoice, or, below 0, paid back',
  params: { id: PathId },
  body: z.strictObject({
    amount: z.string().regex(/^-?\d{1,11}(\.\d{1,3})?$/, 'must be an amount like 372.68'),
    paidOn: Day,
    reference: Text(300),
    /** More than is open was paid, and that is no slip. */
    moreThanOpen: z.boolean(),
  }),
  reply: Invoice,
  status: 201,
});
export const withdrawPayment = defineCommand({
  name: 'withdrawPayment',
  tags: ['billing'],
  path: '/payments/:id/withdrawal',
  access: 'invoices.write',
  summary: 'Take back a payment that was booked by mistake',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Invoice,
});

/** Which column of a bank's list holds what, and how it writes days and amounts. */
export const BankMapping = z.strictObject({
  paidOn: Line(100),
  amount: Line(100),
  /** Columns with what the payer wrote, and who that is; one at least. */
  texts: z.array(Line(100)).min(1, 'needs at least one column').max(6),
  dayOrder: z.enum(['year-month-day', 'day-month-year', 'month-day-year']),
  decimal: z.enum(['point', 'comma']),
  separator: z.enum(['comma', 'semicolon', 'tab']),
  currency: Currency,
});
export type BankMapping = z.output<typeof BankMapping>;
const bankList = {
  csv: z
    .string()
    .min(1, 'must not be empty')
    .max(1_500_000, 'must be at most 1.5 million characters: import it in parts')
    .refine(isStorable, unstorable),
  mapping: BankMapping,
};

/** What a line of the bank may pay: the number of an invoice in its words, or only the amount that is open. */
export const BankMatch = z.enum(['number-and-amount', 'number', 'amount']);
export type BankMatch = z.output<typeof BankMatch>;
const OpenInvoice = z.object({ id: Id, number: z.string(), customer: z.string(), open: Money });
export const BankPreview = z
  .object({
    lines: z.array(
      z.object({
        line: z.int(),
        /** The same for the same line of the same bank, whenever it is imported. */
        key: z.string(),
        paidOn: Day,
        amount: Money,
        text: z.string(),
        match: BankMatch.nullable(),
        invoice: OpenInvoice.nullable(),
        /** The invoice that it was booked on before. */
        bookedOn: z.string().nullable(),
      }),
    ),
    /** Lines that pay nothing in are left out. */
    leftOut: Count,
    faults: z.array(z.object({ line: z.int(), column: z.string(), message: z.string() })),
    faultCount: z.int(),
    open: z.array(OpenInvoice),
  })
  .meta({ id: 'BankPreview' });
export type BankPreview = z.output<typeof BankPreview>;

export const previewBankLines = defineCommand({
  name: 'previewBankLines',
  tags: ['billing'],
  path: '/bank-lines/preview',
  access: 'invoices.write',
  summary: 'Read a list of the bank and say which invoices its lines may pay, without booking anything',
  body: z.strictObject(bankList),
  reply: BankPreview,
  keyless: 'works out only',
});
export const bookBankLines = defineCommand({
  name: 'bookBankLines',
  tags: ['billing'],
  path: '/bank-lines',
  access: 'invoices.write',
  summary: 'Book lines of the bank on invoices, all that are named or none; a line is booked once',
  body: z.strictObject({
    ...bankList,
    bookings: z
      .array(z.strictObject({ key: Line(64), invoiceId: Id, moreThanOpen: z.boolean() }))
      .min(1, 'needs at least one line')
      .max(1000),
  }),
  reply: z.object({ booked: Count }),
  status: 201,
});

export const exportAccounting = defineQuery({
  name: 'exportAccounting',
  tags: ['billing'],
  path: '/accounting.csv',
  access: 'invoices.read',
  summary: 'Invoices, credit notes and payments of a period as CSV, for the books',
  query: { from: Day, to: Day },
  reply: Csv,
});
