import { UnprovedWord } from '../colour/evidence-gate.ts';
import { z } from 'zod';
import { IssuedPapers } from '../core/papers.ts';
import { EmptyBody, defineQuery, defineCommand } from '../kernel/http.ts';
import { LineOptions, Quotation } from './quotations.ts';
import { Pdf, Day, Id, Line, PathId, Text } from '../kernel/scalars.ts';

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
  /** The rate of exchange to price with where the customer's currency is not the shop's; null where it is. */
  exchangeRateId: Id.nullable().default(null),
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

export const createQuotation = defineCommand({
  name: 'createQuotation',
  tags: ['sales'],
  path: '/quotations',
  access: 'quotations.write',
  summary: 'Write the first draft of a quotation; the server computes the prices',
  body: z.strictObject({
    customerId: Id,
    /** The enquiry that it answers. */
    enquiryId: Id.optional(),
    ...QuotationText,
  }),
  reply: Quotation,
  status: 201,
  problems: ['version-conflict'],
});
export const updateQuotation = defineCommand({
  name: 'updateQuotation',
  tags: ['sales'],
  method: 'PUT',
  path: '/quotations/:id',
  access: 'quotations.write',
  summary: 'Change the draft revision; the server computes the prices again',
  params: { id: PathId },
  body: QuotationDraft,
  reply: Quotation,
  versioned: true,
});
export const sendQuotation = defineCommand({
  name: 'sendQuotation',
  tags: ['sales'],
  path: '/quotations/:id/send',
  access: 'quotations.write',
  summary: 'Freeze the draft: it leaves the house, and supersedes the revision before',
  params: { id: PathId },
  body: z.strictObject({
    /** Where a line is not proved on its part: who quotes it all the same, subject to a first article, and why. */
    unproved: UnprovedWord.optional(),
  }),
  reply: Quotation,
  problems: ['not-proved'],
  versioned: true,
});
export const closeQuotation = defineCommand({
  name: 'closeQuotation',
  tags: ['sales'],
  path: '/quotations/:id/close',
  access: 'quotations.write',
  summary: 'Record that the customer declined, or that the offer expired',
  params: { id: PathId },
  body: z.strictObject({ outcome: z.enum(['declined', 'lapsed']), reason: Line(500) }),
  reply: Quotation,
  versioned: true,
});
export const discardQuotationDraft = defineCommand({
  name: 'discardQuotationDraft',
  tags: ['sales'],
  method: 'DELETE',
  path: '/quotations/:id/draft',
  access: 'quotations.write',
  summary: 'Discard the draft revision; a quotation that was only a draft goes with it',
  params: { id: PathId },
  body: EmptyBody,
  reply: z.object({ revisionsLeft: z.int() }),
  versioned: true,
});
export const reviseQuotation = defineCommand({
  name: 'reviseQuotation',
  tags: ['sales'],
  path: '/quotations/:id/revise',
  access: 'quotations.write',
  summary: 'A new draft revision with the same lines, priced with today’s rates and recipes',
  params: { id: PathId },
  body: EmptyBody,
  reply: Quotation,
  status: 201,
});
export const copyQuotation = defineCommand({
  name: 'copyQuotation',
  tags: ['sales'],
  path: '/quotations/:id/copy',
  access: 'quotations.write',
  summary: 'A new quotation with the same lines, priced with today’s rates and recipes',
  params: { id: PathId },
  body: EmptyBody,
  reply: Quotation,
  status: 201,
});
/** The paper for the customer. */
export const printQuotation = defineQuery({
  name: 'printQuotation',
  tags: ['sales'],
  path: '/quotations/:id/revisions/:revision/pdf',
  access: 'quotations.read',
  summary: 'A quotation as the customer gets it',
  params: { id: PathId, revision: z.coerce.number().int().min(1).max(10_000) },
  reply: Pdf,
  perMinute: 120,
});

export const listQuotationPapers = defineQuery({
  name: 'listQuotationPapers',
  tags: ['sales'],
  path: '/quotations/:id/papers',
  access: 'quotations.read',
  summary: 'The papers of every sent revision of a quotation, newest first',
  params: { id: PathId },
  reply: IssuedPapers,
});
