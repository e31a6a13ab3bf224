import { z } from 'zod';
import { CustomerRef } from '../catalog/customers.ts';
import { defineQuery } from '../kernel/http.ts';
import {
  content,
  Count,
  Day,
  Id,
  Instant,
  listQuery,
  Money,
  page,
  PathId,
  Pdf,
  Percent,
  SystemOfUnits,
  Version,
} from '../kernel/scalars.ts';
import { NoTaxReason } from '../catalog/customers.ts';
import { PaymentRow } from './payments.ts';

export const InvoiceKind = z.enum(['invoice', 'credit-note']);
export type InvoiceKind = z.output<typeof InvoiceKind>;

/** Pieces of a shipment, or a charge that an order line carries once. */
export const InvoiceLine = z.object({
  id: Id,
  position: z.int(),
  kind: z.enum(['pieces', 'one-off']),
  order: z.object({
    id: Id,
    number: z.string(),
    lineId: Id,
    line: z.int(),
    customerOrderNumber: z.string(),
  }),
  part: z.object({ number: z.string(), revision: z.string(), description: z.string() }),
  shipment: z
    .object({
      id: Id,
      number: z.string(),
      shippedOn: Day,
      lot: z.object({ id: Id, number: z.string() }),
      deliveryNote: z.string().nullable(),
    })
    .nullable(),
  /** What a one-off charge is for. */
  label: z.string(),
  quantity: Count,
  /** The price: so much for so many pieces. */
  basisTotal: Money,
  basisQuantity: Count,
  unitPrice: Money,
  /** The lot price came to the minimum charge. */
  minimumApplied: z.boolean(),
  /** Why the price is not the one of the order. */
  priceReason: z.string(),
  net: Money,
});
export type InvoiceLine = z.output<typeof InvoiceLine>;

/** What an invoice or a credit note says, all of it as it stood when it was issued. */
export const InvoiceFacts = z
  .object({
    shop: z.object({
      name: z.string(),
      address: z.string(),
      contact: z.string(),
      timeZone: z.string(),
      units: SystemOfUnits,
      country: z.string(),
      taxNumber: z.string(),
      iban: z.string(),
      bic: z.string(),
    }),
    customer: z.object({
      number: z.string(),
      name: z.string(),
      address: z.string(),
      country: z.string(),
      taxNumber: z.string(),
    }),
    currency: z.string(),
    issuedOn: Day,
    dueOn: Day,
    paymentDays: z.int(),
    /** The invoice that a credit note corrects, and why. */
    credits: z.object({ number: z.string(), issuedOn: Day, reason: z.string() }).nullable(),
    lines: z.array(InvoiceLine),
    net: Money,
    taxRatePercent: Percent,
    noTaxReason: NoTaxReason,
    tax: Money,
    gross: Money,
    notes: z.string(),
  })
  .meta({ id: 'InvoiceFacts' });
export type InvoiceFacts = z.output<typeof InvoiceFacts>;

/** A draft; open, and overdue when its day has passed; paid; credited in full. A credit note is only issued. */
export const InvoiceState = z.enum(['draft', 'open', 'overdue', 'paid', 'credited', 'issued']);
export type InvoiceState = z.output<typeof InvoiceState>;

const Head = z.object({
  id: Id,
  kind: InvoiceKind,
  /** Given when it is issued. */
  number: z.string().nullable(),
  state: InvoiceState,
  customer: CustomerRef,
  currency: z.string(),
  issuedOn: Day.nullable(),
  dueOn: Day.nullable(),
  net: Money,
  gross: Money,
  /** What is still to be paid; below 0 what is to be paid back. */
  open: Money,
});
export const InvoiceItem = Head.meta({ id: 'InvoiceItem' });
export type InvoiceItem = z.output<typeof InvoiceItem>;

export const Invoice = Head.extend({
  facts: InvoiceFacts,
  /** Of a credit note: what it corrects. */
  credits: z.object({ id: Id, number: z.string() }).nullable(),
  /** Of a credit note: what it gives back may be invoiced anew. */
  frees: z.boolean(),
  creditNotes: z.array(z.object({ id: Id, number: z.string(), issuedOn: Day, net: Money, gross: Money })),
  /** By line: how many pieces, and how much, no credit note gave back; and how many of them the customer sent back. */
  left: z.array(z.object({ lineId: Id, quantity: Count, net: Money, returned: Count })),
  payments: z.array(PaymentRow),
  createdBy: z.string(),
  issuedBy: z.string().nullable(),
  issuedAt: Instant.nullable(),
  /** What a structured file still needs; empty where there is one, or can be. */
  fileFaults: z.array(z.string()),
  hasFile: z.boolean(),
  version: Version,
}).meta({ id: 'Invoice' });
export type Invoice = z.output<typeof Invoice>;

export const invoiceFilters = {
  search: listQuery.search,
  state: InvoiceState.optional(),
  customerId: PathId.optional(),
  orderId: PathId.optional(),
  lotId: PathId.optional(),
};
export const listInvoices = defineQuery({
  name: 'listInvoices',
  tags: ['billing'],
  path: '/invoices',
  access: 'invoices.read',
  summary: 'Invoices and credit notes, the newest first',
  query: { ...listQuery, ...invoiceFilters },
  reply: page(InvoiceItem),
});
/** What stands in the books now, by currency. */
export const InvoiceSums = z.object({
  items: z.array(
    z.object({
      currency: z.string(),
      openCount: Count,
      open: Money,
      overdueCount: Count,
      overdue: Money,
      /** Paid in the last 30 days, what was paid back taken off. */
      paidLately: Money,
    }),
  ),
});
export type InvoiceSums = z.output<typeof InvoiceSums>;
export const getInvoiceSums = defineQuery({
  name: 'getInvoiceSums',
  tags: ['billing'],
  path: '/invoice-sums',
  access: 'invoices.read',
  summary: 'What is open, overdue and was paid lately, by currency',
  reply: InvoiceSums,
});
export const getInvoice = defineQuery({
  name: 'getInvoice',
  tags: ['billing'],
  path: '/invoices/:id',
  access: 'invoices.read',
  summary: 'An invoice or credit note: as it was issued, or as it would be',
  params: { id: PathId },
  reply: Invoice,
});
export const printInvoice = defineQuery({
  name: 'printInvoice',
  tags: ['billing'],
  path: '/invoices/:id/pdf',
  access: 'invoices.read',
  summary: 'An issued invoice or credit note as a PDF: the same bytes for ever',
  params: { id: PathId },
  reply: Pdf,
});
export const getInvoiceFile = defineQuery({
  name: 'getInvoiceFile',
  tags: ['billing'],
  path: '/invoices/:id/ubl',
  access: 'invoices.read',
  summary: 'An issued invoice or credit note as a structured file: EN 16931 in UBL 2.1',
  params: { id: PathId },
  reply: content('application/xml', 'A UBL 2.1 document (ISO/IEC 19845)'),
});
