import { z } from 'zod';
import { reading } from './http.ts';
import { CustomerRef } from './customers.ts';
import { RecipeRef } from './orders.ts';
import { PartRef } from './parts.ts';
import { Rates } from './rates.ts';
import { Electrical, Family, StepKind, StepSetting, TankContents } from './steps.ts';
import { Count, Day, Id, PathId } from './scalars.ts';

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
