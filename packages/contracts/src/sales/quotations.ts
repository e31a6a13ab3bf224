import { EvidenceVerdict } from '../colour/evidence-gate.ts';
import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { CustomerRef } from '../catalog/customers.ts';
import { QuotedExchange } from '../catalog/exchange-rates.ts';
import { RecipeRef } from './orders.ts';
import { PartRef } from '../catalog/parts.ts';
import {
  Count,
  Csv,
  Day,
  Id,
  Instant,
  Line,
  listQuery,
  Money,
  page,
  PathId,
  Quantity,
  Text,
  Version,
} from '../kernel/scalars.ts';

export const QuotationStatus = z.enum(['draft', 'sent', 'accepted', 'declined', 'lapsed', 'superseded']);
export type QuotationStatus = z.output<typeof QuotationStatus>;

const Seconds = Quantity(1_000_000);
const Amount = Quantity(1_000_000);

/** What the estimator chose for a line, where the rates leave a choice. */
export const LineOptions = z.strictObject({
  maskingFeatures: z.int().min(0).max(10_000),
  masking: z.strictObject({ timeS: Seconds, materialCost: Amount }),
  labour: z.strictObject({
    setupS: Seconds,
    rackS: Seconds,
    unrackS: Seconds,
    inspectS: Seconds,
    packS: Seconds,
  }),
  inspectionLevel: Text(100),
  certificate: z.boolean(),
  packing: Text(200),
  packingCost: Amount,
  expedite: z.boolean(),
  /** The most pieces ever run in one load with even colour; null when no load was proved. */
  validatedPieces: z.int().min(1).max(1_000_000).nullable(),
  /** Tooling and one-off tests, added after everything else; `trialRunId` where it charges a trial that was run at a tank. */
  oneOffs: z
    .array(z.strictObject({ label: Line(100), amount: Amount, trialRunId: Id.nullable().default(null) }))
    .max(20),
});
export type LineOptions = z.output<typeof LineOptions>;

const Figure = z.object({
  path: z.string().nullish(),
  label: z.string(),
  value: z.number().nullable(),
  unit: z.string(),
});
const CostLine = z.object({
  key: z.string(),
  label: z.string(),
  formula: z.string(),
  inputs: z.array(Figure),
  amount: z.number(),
});

/**
 * A price open to its last figure. Costs and the steps up to the exchange are in the currency of the rates; the price,
 * what the exchange adds to its figure, rounding and one-off charges in the currency of the quotation.
 */
export const BuildUp = z.object({
  quantity: Count,
  plan: z.object({
    limits: z.array(
      z.object({
        key: z.string(),
        label: z.string(),
        pieces: Count,
        formula: z.string(),
        inputs: z.array(Figure),
      }),
    ),
    binding: z.array(z.string()),
    piecesPerLoad: Count,
    loads: Count,
    lastLoad: Count,
    balanced: z.array(Count),
  }),
  lines: z.array(CostLine),
  steps: z.array(CostLine),
  directCost: z.number(),
  cost: z.number(),
  minimumApplied: z.boolean(),
  /** In the currency of the rates, and what it was exchanged at; absent in prices of before there was a rate of exchange. */
  priceBeforeExchange: z.number().optional(),
  exchangeRate: z.number().optional(),
  priceTotal: z.number(),
  unitPrice: z.number(),
  oneOffTotal: z.number(),
  /** One-off charges in the currency of the quotation; absent in prices of before there was a rate of exchange. */
  oneOffs: z.array(z.object({ label: z.string(), amount: z.number() })).optional(),
  priceWithOneOffs: z.number(),
  marginShare: z.number(),
  markupShare: z.number(),
  /** In messages `¤` stands for the currency of the quotation. */
  warnings: z.array(z.object({ code: z.string(), message: z.string() })),
  nextBreakMessage: z.string(),
});
export type BuildUp = z.output<typeof BuildUp>;

export const QuotationBreak = z.object({
  id: Id,
  quantity: Count,
  /** Of the lot, one-off charges included. */
  totalPrice: Money,
  unitPrice: Money,
  loads: Count,
  /** Absent for those who may not see rates. */
  buildUp: BuildUp.optional(),
});

/** Whether a recipe is proved on the part that is quoted, and who let it be quoted where it is not. */
export const QuotedEvidence = EvidenceVerdict.omit({ evidence: true }).extend({
  allowed: z.object({ by: z.string(), reason: z.string() }).nullable(),
});
export type QuotedEvidence = z.output<typeof QuotedEvidence>;

export const QuotationLine = z.object({
  id: Id,
  position: z.int(),
  part: PartRef,
  recipe: RecipeRef,
  rackId: Id.nullable(),
  supplyId: Id.nullable(),
  /** Absent for those who may not see rates. */
  options: LineOptions.optional(),
  inspectionLevel: z.string(),
  certificate: z.boolean(),
  packing: z.string(),
  expedite: z.boolean(),
  /** In the currency of the quotation. */
  oneOffs: z.array(
    z.object({
      label: z.string(),
      amount: Money,
      /** The trial that it charges. */
      trial: z.object({ id: Id, number: z.string() }).nullable(),
    }),
  ),
  piecesPerLoad: Count,
  bindingLimit: z.string(),
  /** Square millimetres a piece, and how that was found. */
  areaMm2: z.number(),
  areaMethod: z.string(),
  maskedAreaMm2: z.number(),
  material: z.string(),
  massKg: z.number().nullable(),
  specification: z.string(),
  /** What the recipe calls its colour, in words; nothing is promised by it. */
  recipeColour: z.string(),
  materialId: Id,
  /** Of a draft as things stand, of a sent line as it was sent; null where it was sent before evidence was asked for. */
  evidence: QuotedEvidence.nullable(),
  breaks: z.array(QuotationBreak),
});

export const QuotationRevision = z
  .object({
    id: Id,
    revision: z.int(),
    /** A sent revision past its day reads `lapsed`. */
    status: QuotationStatus,
    contactName: z.string(),
    enquiryReference: z.string(),
    validUntil: Day,
    leadTimeDays: z.int(),
    currency: z.string(),
    /** What the prices were exchanged at; null where the currency is the shop's. */
    exchange: QuotedExchange.nullable(),
    taxRatePercent: z.number(),
    terms: z.string(),
    customerNotes: z.string(),
    internalNotes: z.string(),
    rateCardId: Id,
    rateCardRevision: z.int(),
    calcVersion: z.string(),
    createdBy: z.string(),
    createdAt: Instant,
    sentAt: Instant.nullable(),
    sentBy: z.string().nullable(),
    decidedAt: Instant.nullable(),
    decisionReason: z.string().nullable(),
    lines: z.array(QuotationLine),
    version: Version,
  })
  .meta({ id: 'QuotationRevision' });
export type QuotationRevision = z.output<typeof QuotationRevision>;

export const Quotation = z
  .object({
    id: Id,
    number: z.string(),
    customer: CustomerRef,
    order: z.object({ id: Id, number: z.string() }).nullable(),
    /** What it answers. */
    enquiry: z.object({ id: Id, number: z.string() }).nullable(),
    revisions: z.array(
      z.object({
        id: Id,
        revision: z.int(),
        status: QuotationStatus,
        createdAt: Instant,
        sentAt: Instant.nullable(),
      }),
    ),
    /** The revision asked for, the last one unless another was named. */
    shown: QuotationRevision,
    /** Of `shown`: what an edit must name. */
    version: Version,
  })
  .meta({ id: 'Quotation' });
export type Quotation = z.output<typeof Quotation>;

export const QuotationSummary = z.object({
  id: Id,
  number: z.string(),
  customer: CustomerRef,
  revision: z.int(),
  status: QuotationStatus,
  /** Behind a draft: the revision that the customer has, and how it stands. */
  issued: z.object({ revision: z.int(), status: QuotationStatus }).nullable(),
  lineCount: Count,
  /** The cheapest and the dearest of its prices. */
  lowest: Money.nullable(),
  highest: Money.nullable(),
  currency: z.string(),
  /** What its prices were exchanged at; null where the currency is the shop's. */
  exchangeRate: z.string().nullable(),
  validUntil: Day,
  createdAt: Instant,
});

const quotationFilters = {
  search: listQuery.search,
  status: QuotationStatus.optional(),
  customerId: PathId.optional(),
};
export const listQuotations = defineQuery({
  name: 'listQuotations',
  tags: ['sales'],
  path: '/quotations',
  access: 'quotations.read',
  summary: 'Quotations by their last revision, newest first',
  query: { ...listQuery, ...quotationFilters },
  reply: page(QuotationSummary),
});
export const exportQuotations = defineQuery({
  name: 'exportQuotations',
  tags: ['sales'],
  path: '/quotations.csv',
  access: 'quotations.read',
  summary: 'The list of quotations as CSV',
  query: quotationFilters,
  reply: Csv,
});
export const getQuotation = defineQuery({
  name: 'getQuotation',
  tags: ['sales'],
  path: '/quotations/:id',
  access: 'quotations.read',
  summary: 'A quotation with one revision in full',
  params: { id: PathId },
  query: { revision: z.coerce.number().int().min(1).max(10_000).optional() },
  reply: Quotation,
});
