import { z } from 'zod';
import { CustomerRef, PaymentDays } from '../catalog/customers.ts';
import { defineCommand, defineQuery, EmptyBody, EmptyReply } from '../kernel/http.ts';
import { Count, Day, Id, Instant, Line, Money, PathId, Text } from '../kernel/scalars.ts';
import { Invoice } from './invoices.ts';

/** Where the price of a line comes from; `none` is typed with a reason. */
export const PriceOrigin = z.enum(['quotation', 'order', 'none']);
export type PriceOrigin = z.output<typeof PriceOrigin>;

/** What of a customer was shipped and stands on no invoice. */
export const InvoiceSheet = z
  .object({
    customer: CustomerRef,
    paymentDays: z.int(),
    shipments: z.array(
      z.object({
        id: Id,
        number: z.string(),
        shippedAt: Instant,
        deliveryNote: z.string().nullable(),
        lot: z.object({ id: Id, number: z.string() }),
        order: z.object({
          id: Id,
          number: z.string(),
          lineId: Id,
          line: z.int(),
          customerOrderNumber: z.string(),
        }),
        part: z.string(),
        currency: z.string(),
        /** Pieces that no invoice takes. */
        pieces: Count,
        /** Of them, pieces that came back. */
        returned: Count,
        origin: PriceOrigin,
        quotation: z.string(),
        unitPrice: Money,
        net: Money,
        minimumApplied: z.boolean(),
        /** Charges that go on the first invoice of the line. */
        oneOffs: z.array(z.object({ label: z.string(), amount: Money })),
      }),
    ),
  })
  .meta({ id: 'InvoiceSheet' });
export type InvoiceSheet = z.output<typeof InvoiceSheet>;

export const getInvoiceSheet = defineQuery({
  name: 'getInvoiceSheet',
  tags: ['billing'],
  path: '/customers/:id/invoice-sheet',
  access: 'invoices.write',
  summary: 'The shipments of a customer that stand on no invoice, priced',
  params: { id: PathId },
  reply: InvoiceSheet,
});
/** A customer with shipments that wait to be invoiced. */
export const InvoiceDue = z.object({
  customer: CustomerRef,
  shipments: Count,
  pieces: Count,
  since: Day,
});
export type InvoiceDue = z.output<typeof InvoiceDue>;
export const listInvoiceDues = defineQuery({
  name: 'listInvoiceDues',
  tags: ['billing'],
  path: '/invoice-dues',
  access: 'invoices.read',
  summary: 'Customers with shipments that stand on no invoice, the longest waiting first',
  reply: z.object({ items: z.array(InvoiceDue) }),
});

const draftBody = z.strictObject({
  shipmentIds: z.array(Id).min(1, 'needs at least one shipment').max(200),
  /** Prices of order lines that came without a quotation. */
  prices: z
    .array(
      z.strictObject({
        orderLineId: Id,
        unitPrice: z.string().regex(/^\d{1,9}(\.\d{1,6})?$/, 'must be an amount like 12.5'),
        reason: Line(500),
      }),
    )
    .max(200),
  paymentDays: PaymentDays,
  notes: Text(2000),
});
export const createInvoice = defineCommand({
  name: 'createInvoice',
  tags: ['billing'],
  path: '/invoices',
  access: 'invoices.write',
  summary: 'Draft an invoice of shipments of one customer; nothing else invoices them meanwhile',
  body: draftBody,
  reply: Invoice,
  status: 201,
});
export const updateInvoice = defineCommand({
  name: 'updateInvoice',
  tags: ['billing'],
  method: 'PUT',
  path: '/invoices/:id',
  access: 'invoices.write',
  summary: 'Change a draft: its shipments, typed prices, days to pay and notes',
  params: { id: PathId },
  body: draftBody,
  reply: Invoice,
  versioned: true,
});
export const discardInvoice = defineCommand({
  name: 'discardInvoice',
  tags: ['billing'],
  method: 'DELETE',
  path: '/invoices/:id',
  access: 'invoices.write',
  summary: 'Discard a draft; its shipments wait again',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
});
export const issueInvoice = defineCommand({
  name: 'issueInvoice',
  tags: ['billing'],
  path: '/invoices/:id/issue',
  access: 'invoices.write',
  summary: 'Issue a draft under the next number: from then on nothing of it changes',
  params: { id: PathId },
  body: EmptyBody,
  reply: Invoice,
  versioned: true,
  proof: 'signature',
});
export const issueCreditNote = defineCommand({
  name: 'issueCreditNote',
  tags: ['billing'],
  path: '/invoices/:id/credit-notes',
  access: 'invoices.write',
  summary: 'Give an issued invoice back in whole, or some pieces of its lines',
  params: { id: PathId },
  body: z.strictObject({
    /** Pieces by line; null is all that is left of the invoice. */
    lines: z
      .array(z.strictObject({ lineId: Id, quantity: z.int().min(1).max(1_000_000) }))
      .min(1, 'needs at least one line')
      .max(500)
      .nullable(),
    reason: Line(500),
    /** What it gives back is due again, because the invoice was wrong. */
    frees: z.boolean(),
  }),
  reply: Invoice,
  status: 201,
  proof: 'signature',
});
