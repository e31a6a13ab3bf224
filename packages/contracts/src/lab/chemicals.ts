import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import {
  Archived,
  Csv,
  Day,
  Id,
  Instant,
  Line,
  listQuery,
  Money,
  page,
  PathId,
  Positive,
  Price,
  Quantity,
  Text,
  Version,
} from '../kernel/scalars.ts';

/** What baths are made of, as far as density and heat of solution are on file. */
export const Solute = z.enum(['KOH', 'NaOH', 'H2SO4', 'H3PO4', 'Na3PO4', 'K2CO3', 'Na2CO3', 'NH4_2SO4']);
export type Solute = z.output<typeof Solute>;

/** The keys of the cautions that a chemical calls for, besides those of the bath it goes into. */
export const ChemicalHazard = z.enum([
  'corrosive',
  'oxidising',
  'toxic',
  'fluoride',
  'sensitising',
  'flammable',
  'dust',
  'environment',
]);
export type ChemicalHazard = z.output<typeof ChemicalHazard>;
/** Common practice, no source; the safety data sheet decides. */
export const chemicalHazardWords: Record<ChemicalHazard, string> = {
  corrosive: 'Burns skin and eyes: face shield, gloves, apron; water at once, for a long time.',
  oxidising: 'Feeds a fire: keep it away from anything that burns, including oil and rags.',
  toxic: 'Poisonous if swallowed, breathed in or through the skin: no eating here, wash hands.',
  fluoride:
    'Contains fluoride: injures deep tissue without early pain; trained people only, antidote at hand.',
  sensitising: 'May cause allergy: gloves, and no dust or mist in the air.',
  flammable: 'Burns: no flame, no spark, container closed.',
  dust: 'Gives off dust that must not be breathed: pour low and slowly, exhaust on.',
  environment: 'Must not reach drains or soil: collect it and record it as waste.',
};

/** A solid is weighed; a solution may be metered. */
export const ChemicalForm = z.enum(['solid', 'liquid']);
export type ChemicalForm = z.output<typeof ChemicalForm>;

const MassFraction = z.number().gt(0).max(1);
const Density = z.number().min(500).max(3000).nullable();

const chemicalFields = {
  code: Line(20),
  name: Line(100),
  formula: Text(60),
  /** The solute it brings into a bath; null for dyes, salts and inhibitors that are only weighed in. */
  solute: Solute.nullable(),
  form: ChemicalForm,
  /** Share of the bare solute in what is delivered; of a hydrate less than its purity. */
  assayMassFraction: MassFraction,
  /** Share of carbonate (or another impurity that is watched) in it. */
  impurityMassFraction: z.number().min(0).lt(1),
  /** Of a solution when the label states it; null reckons it from the assay. */
  densityKgPerM3: Density,
  hazards: z.array(ChemicalHazard).max(8),
  supplier: Text(200),
  /** Below this much in open lots it is to be ordered. */
  reorderPointKg: Quantity(1e6).nullable(),
  /** Left out, it stays; shown to who may see rates. */
  pricePerKg: Price.nullable().optional(),
  sdsFileId: Id.nullable(),
  notes: Text(2000),
};

export const Chemical = z
  .object({
    id: Id,
    ...chemicalFields,
    code: z.string(),
    name: z.string(),
    formula: z.string(),
    supplier: z.string(),
    notes: z.string(),
    pricePerKg: Money.nullable(),
    /** The safety data sheet, to open. */
    sdsFileName: z.string().nullable(),
    /** In open lots. */
    balanceKg: z.number(),
    openLots: z.int(),
    belowReorderPoint: z.boolean(),
    archivedAt: Instant.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Chemical' });
export type Chemical = z.output<typeof Chemical>;

const reasonable = (
  chemical: { assayMassFraction: number; impurityMassFraction: number },
  context: z.RefinementCtx,
) => {
  if (chemical.assayMassFraction + chemical.impurityMassFraction > 1)
    context.addIssue({
      code: 'custom',
      path: ['impurityMassFraction'],
      message: 'with the assay makes more than the whole',
    });
};
export const NewChemical = z.strictObject(chemicalFields).superRefine(reasonable);
export type NewChemical = z.output<typeof NewChemical>;

export const ChemicalLotStatus = z.enum(['open', 'quarantined', 'finished']);
export type ChemicalLotStatus = z.output<typeof ChemicalLotStatus>;

/** What arrived at once under one number of the supplier. */
export const ChemicalLot = z
  .object({
    id: Id,
    chemicalId: Id,
    chemicalCode: z.string(),
    chemicalName: z.string(),
    solute: Solute.nullable(),
    hazards: z.array(ChemicalHazard),
    /** The safety data sheet, to open. */
    sdsFileId: Id.nullable(),
    form: ChemicalForm,
    supplierLot: z.string(),
    receivedAt: Instant,
    receivedBy: z.string(),
    receivedKg: z.number(),
    assayMassFraction: z.number(),
    impurityMassFraction: z.number(),
    densityKgPerM3: z.number().nullable(),
    expiresOn: Day.nullable(),
    expired: z.boolean(),
    status: ChemicalLotStatus,
    /** Sum of its movements; the record never lets it fall below nothing. */
    balanceKg: z.number(),
    notes: z.string(),
    /** What was paid for it, for who may see rates. */
    pricePerKg: Money.nullable(),
    version: Version,
  })
  .meta({ id: 'ChemicalLot' });
export type ChemicalLot = z.output<typeof ChemicalLot>;

export const StockMovement = z
  .object({
    id: Id,
    at: Instant,
    kind: z.enum(['receipt', 'use', 'correction', 'adjustment', 'disposal']),
    /** Into stock positive, out of it negative. */
    kg: z.number(),
    balanceKg: z.number(),
    addition: z.object({ id: Id, number: z.string(), bathId: Id, bathNumber: z.string() }).nullable(),
    reason: z.string(),
    by: z.string(),
  })
  .meta({ id: 'StockMovement' });
export type StockMovement = z.output<typeof StockMovement>;

const filters = {
  search: listQuery.search,
  archived: Archived.optional(),
  solute: Solute.optional(),
  /** Only what is to be ordered. */
  low: z.literal('yes').optional(),
};
export const listChemicals = defineQuery({
  name: 'listChemicals',
  tags: ['lab'],
  path: '/chemicals',
  access: 'lab.read',
  summary: 'Chemicals with what is in stock, by code',
  query: { ...listQuery, ...filters },
  reply: page(Chemical),
});
export const exportChemicals = defineQuery({
  name: 'exportChemicals',
  tags: ['lab'],
  path: '/chemicals.csv',
  access: 'lab.read',
  summary: 'The list of chemicals as CSV',
  query: filters,
  reply: Csv,
});
export const getChemical = defineQuery({
  name: 'getChemical',
  tags: ['lab'],
  path: '/chemicals/:id',
  access: 'lab.read',
  summary: 'One chemical with its lots, newest first',
  params: { id: PathId },
  reply: z.object({ chemical: Chemical, lots: z.array(ChemicalLot) }),
});
export const createChemical = defineCommand({
  name: 'createChemical',
  tags: ['lab'],
  path: '/chemicals',
  access: 'lab.write',
  summary: 'Add a chemical',
  body: NewChemical,
  reply: Chemical,
  status: 201,
});
export const updateChemical = defineCommand({
  name: 'updateChemical',
  tags: ['lab'],
  method: 'PUT',
  path: '/chemicals/:id',
  access: 'lab.write',
  summary: 'Change a chemical; lots on the shelf keep their own assay',
  params: { id: PathId },
  body: z.strictObject({ ...chemicalFields, archived: z.boolean() }).superRefine(reasonable),
  reply: Chemical,
  versioned: true,
});

export const listChemicalLots = defineQuery({
  name: 'listChemicalLots',
  tags: ['lab'],
  path: '/chemical-lots',
  access: 'lab.read',
  summary: 'Lots that can be used, the one that expires first on top',
  query: { chemicalId: PathId.optional(), solute: Solute.optional() },
  reply: z.object({ items: z.array(ChemicalLot) }),
});
export const receiveChemicalLot = defineCommand({
  name: 'receiveChemicalLot',
  tags: ['lab'],
  path: '/chemicals/:id/lots',
  access: 'lab.write',
  summary: 'Receive a lot into stock',
  params: { id: PathId },
  body: z.strictObject({
    supplierLot: Line(60),
    receivedAt: Instant,
    quantityKg: Positive(1e6),
    assayMassFraction: MassFraction,
    densityKgPerM3: Density,
    expiresOn: Day.nullable(),
    /** Nothing counts at the price of the chemical. */
    pricePerKg: Price.nullable().optional(),
    quarantined: z.boolean(),
    notes: Text(1000),
  }),
  reply: ChemicalLot,
  status: 201,
});
export const updateChemicalLot = defineCommand({
  name: 'updateChemicalLot',
  tags: ['lab'],
  method: 'PUT',
  path: '/chemical-lots/:id',
  access: 'lab.write',
  summary: 'Change status, assay, expiry or notes of a lot, with the reason',
  params: { id: PathId },
  body: z.strictObject({
    status: ChemicalLotStatus,
    assayMassFraction: MassFraction,
    densityKgPerM3: Density,
    expiresOn: Day.nullable(),
    /** Left out, it stays. */
    pricePerKg: Price.nullable().optional(),
    notes: Text(1000),
    reason: Line(500),
  }),
  reply: ChemicalLot,
  versioned: true,
});
export const adjustStock = defineCommand({
  name: 'adjustStock',
  tags: ['lab'],
  path: '/chemical-lots/:id/movements',
  access: 'lab.write',
  summary: 'Book what a count found or what was disposed of; never below nothing',
  params: { id: PathId },
  body: z.strictObject({
    kind: z.enum(['adjustment', 'disposal']),
    /** Negative takes out of stock. */
    kg: z
      .number()
      .min(-1e6)
      .max(1e6)
      .refine((kg) => kg !== 0, 'must not be 0'),
    reason: Line(500),
  }),
  reply: ChemicalLot,
  status: 201,
});
export const getStockLedger = defineQuery({
  name: 'getStockLedger',
  tags: ['lab'],
  path: '/chemical-lots/:id/movements',
  access: 'lab.read',
  summary: 'The movements of a lot, newest first',
  params: { id: PathId },
  query: { after: listQuery.after, limit: listQuery.limit },
  reply: page(StockMovement),
});
