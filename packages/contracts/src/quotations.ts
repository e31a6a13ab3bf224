import { z } from 'zod';
import { NoBody, reading, writing } from './http.ts';
import { CustomerRef } from './customers.ts';
import { RecipeRef } from './orders.ts';
import { PartRef } from './parts.ts';
import { Rates } from './rates.ts';
import {
  Count,
  Csv,
  Day,
  Id,
  Instant,
  Line,
  Money,
  PathId,
  Quantity,
  Text,
  Version,
  listQuery,
  page,
} from './scalars.ts';
import { Electrical, Family, StepKind, StepSetting, TankContents } from './steps.ts';

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
  /** Tooling and one-off tests, added after everything else. */
  oneOffs: z.array(z.strictObject({ label: Line(100), amount: Amount })).max(20),
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

/** A price open to its last figure. Lines and steps add up to `priceTotal`. */
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
  priceTotal: z.number(),
  unitPrice: z.number(),
  oneOffTotal: z.number(),
  priceWithOneOffs: z.number(),
  marginShare: z.number(),
  markupShare: z.number(),
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
  oneOffs: z.array(z.object({ label: z.string(), amount: z.number() })),
  piecesPerLoad: Count,
  bindingLimit: z.string(),
  /** Square millimetres a piece, and how that was found. */
  areaMm2: z.number(),
  areaMethod: z.string(),
  maskedAreaMm2: z.number(),
  material: z.string(),
  massKg: z.number().nullable(),
  specification: z.string(),
  colour: z.string(),
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
  lineCount: Count,
  /** The cheapest and the dearest of its prices. */
  lowest: Money.nullable(),
  highest: Money.nullable(),
  currency: z.string(),
  validUntil: Day,
  createdAt: Instant,
});

const quotationFilters = {
  search: listQuery.search,
  status: QuotationStatus.optional(),
  customerId: PathId.optional(),
};
export const listQuotations = reading({
  path: '/quotations',
  access: 'quotations.read',
  summary: 'Quotations by their last revision, newest first',
  query: { ...listQuery, ...quotationFilters },
  reply: page(QuotationSummary),
});
export const exportQuotations = reading({
  path: '/quotations.csv',
  access: 'quotations.read',
  summary: 'The list of quotations as CSV',
  query: quotationFilters,
  reply: Csv,
});
export const getQuotation = reading({
  path: '/quotations/:id',
  access: 'quotations.read',
  summary: 'A quotation with one revision in full',
  params: { id: PathId },
  query: { revision: z.coerce.number().int().min(1).max(10_000).optional() },
  reply: Quotation,
});

/** A part as a price sees it. */
export const SheetPart = PartRef.extend({
  areaMm2: z.number(),
  electricalAreaMm2: z.number(),
  massKg: z.number().nullable(),
  widthMm: z.number().nullable(),
  heightMm: z.number().nullable(),
  heatCapacityJPerKgK: z.number(),
  baseMetal: z.string(),
  material: z.string(),
  maskingFeatures: Count,
});
export const SheetStep = z.object({
  position: z.int(),
  kind: StepKind,
  title: z.string(),
  contents: TankContents.nullable(),
  durationS: z.int(),
  dripS: z.int(),
  settings: z.array(StepSetting),
  electrical: Electrical.nullable(),
});
export const SheetRecipe = RecipeRef.extend({
  family: Family,
  baseMetals: z.array(z.string()),
  steps: z.array(SheetStep),
});
export const SheetRack = z.object({
  id: Id,
  code: z.string(),
  name: z.string(),
  hooks: z.int().nullable(),
  windowWidthMm: z.number(),
  windowHeightMm: z.number(),
  layers: z.int(),
  gapMm: z.number(),
  maxLoadKg: z.number(),
  massKg: z.number(),
  bareAreaMm2: z.number(),
});
export const SheetSupply = z.object({
  id: Id,
  code: z.string(),
  name: z.string(),
  maxVoltageV: z.number(),
  maxCurrentA: z.number(),
  efficiency: z.number(),
  /** What the tanks it is connected to hold. */
  contents: z.array(TankContents),
});

/** Everything a price is computed from, in one answer: the form needs nothing more while somebody types. */
export const QuotationSheet = z
  .object({
    customer: CustomerRef.extend({
      currency: z.string(),
      terms: z.string(),
      taxRatePercent: z.number(),
      contacts: z.array(z.string()),
    }),
    parts: z.array(SheetPart),
    recipes: z.array(SheetRecipe),
    racks: z.array(SheetRack),
    supplies: z.array(SheetSupply),
    rateCard: z.object({ id: Id, revision: z.int(), rates: Rates }).nullable(),
    validUntil: Day,
    leadTimeDays: z.int(),
    terms: z.string(),
    calcVersion: z.string(),
  })
  .meta({ id: 'QuotationSheet' });
export type QuotationSheet = z.output<typeof QuotationSheet>;

export const getQuotationSheet = reading({
  path: '/quotation-sheet/:customerId',
  access: 'quotations.write',
  summary: 'Parts, recipes, racks, supplies and rates to price a quotation with',
  params: { customerId: PathId },
  reply: QuotationSheet,
});

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
