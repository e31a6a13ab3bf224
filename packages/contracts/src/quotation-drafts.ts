import { z } from 'zod';
import { NoBody, writing } from './http.ts';
import { LineOptions, Quotation } from './quotations.ts';
import { Day, Id, Line, PathId, Text } from './scalars.ts';

const QuotationText = {
  contactName: Text(200),
  enquiryReference: Text(200),
  validUntil: Day,
  leadTimeDays: z.int().min(0).max(1000),
  taxRatePercent: z.number().min(0).max(100),
  terms: Text(),
  customerNotes: Text(),
  internalNotes: Text(),
  /** The card the prices on the screen came from; when another took its place, the save is refused. */
  rateCardId: Id,
  lines: z
    .array(
      z.strictObject({
        partId: Id,
        recipeRevisionId: Id,
        rackId: Id,
        supplyId: Id.nullable(),
        quantities: z
          .array(z.int().min(1, 'must be at least 1').max(1_000_000))
          .min(1, 'needs at least one quantity')
          .max(10),
        options: LineOptions,
      }),
    )
    .min(1, 'needs at least one line')
    .max(50),
};
export const QuotationDraft = z.strictObject(QuotationText);
export type QuotationDraft = z.output<typeof QuotationDraft>;

export const createQuotation = writing({
  path: '/quotations',
  access: 'quotations.write',
  summary: 'Write the first draft of a quotation; the server computes the prices',
  body: z.strictObject({ customerId: Id, ...QuotationText }),
  reply: Quotation,
  status: 201,
});
export const updateQuotation = writing({
  method: 'PUT',
  path: '/quotations/:id',
  access: 'quotations.write',
  summary: 'Change the draft revision; the server computes the prices again',
  params: { id: PathId },
  body: QuotationDraft,
  reply: Quotation,
  versioned: true,
});
export const sendQuotation = writing({
  path: '/quotations/:id/send',
  access: 'quotations.write',
  summary: 'Freeze the draft: it leaves the house, and supersedes the revision before',
  params: { id: PathId },
  body: NoBody,
  reply: Quotation,
  versioned: true,
});
export const closeQuotation = writing({
  path: '/quotations/:id/close',
  access: 'quotations.write',
  summary: 'Book that the customer declined, or that the offer lapsed',
  params: { id: PathId },
  body: z.strictObject({ outcome: z.enum(['declined', 'lapsed']), reason: Line(500) }),
  reply: Quotation,
  versioned: true,
});
export const reviseQuotation = writing({
  path: '/quotations/:id/revise',
  access: 'quotations.write',
  summary: 'A new draft revision with the same lines, priced with today’s rates and recipes',
  params: { id: PathId },
  body: NoBody,
  reply: Quotation,
  status: 201,
});
export const copyQuotation = writing({
  path: '/quotations/:id/copy',
  access: 'quotations.write',
  summary: 'A new quotation with the same lines, priced with today’s rates and recipes',
  params: { id: PathId },
  body: NoBody,
  reply: Quotation,
  status: 201,
});
/** The paper for the customer; mounted by hand since it answers with a PDF. */
export const quotationPdf = {
  path: '/quotations/:id/revisions/:revision/pdf',
  access: 'quotations.read',
  params: z.object({ id: PathId, revision: z.coerce.number().int().min(1).max(10_000) }),
} as const;
