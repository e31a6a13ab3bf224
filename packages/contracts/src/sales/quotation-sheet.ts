import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { defineQuery } from '../kernel/http.ts';
import { CustomerRef } from '../catalog/customers.ts';
import { RecipeRef } from './orders.ts';
import { PartRef } from '../catalog/parts.ts';
import { ExchangeRate } from '../catalog/exchange-rates.ts';
import { Rates } from '../catalog/rates.ts';
import { Electrical, Family, StepKind, StepSetting, TankContents } from '../catalog/steps.ts';
import { Count, Day, Id, PathId } from '../kernel/scalars.ts';

/** A part as a price sees it. */
export const SheetPart = PartRef.extend({
  areaMm2: z.number(),
  electricalAreaMm2: z.number(),
  massKg: z.number().nullable(),
  widthMm: z.number().nullable(),
  heightMm: z.number().nullable(),
  heatCapacityJPerKgK: z.number(),
  baseMetal: BaseMetal,
  materialId: Id,
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
  baseMetal: BaseMetal,
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

/** A tank as the size of a rack sees it. */
export const SheetTank = z.object({
  code: z.string(),
  contents: TankContents,
  insideLengthMm: z.number(),
  insideWidthMm: z.number(),
  insideDepthMm: z.number(),
});

/** What an order that comes without a quotation is entered from; prices are typed, so no rate is in it. */
export const OrderSheet = z
  .object({
    customer: CustomerRef.extend({ currency: z.string() }),
    parts: z.array(SheetPart),
    recipes: z.array(SheetRecipe),
    racks: z.array(SheetRack),
    supplies: z.array(SheetSupply),
    tanks: z.array(SheetTank),
  })
  .meta({ id: 'OrderSheet' });
export type OrderSheet = z.output<typeof OrderSheet>;

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
    tanks: z.array(SheetTank),
    rateCard: z.object({ id: Id, revision: z.int(), rates: Rates }).nullable(),
    /** The currency of the rates and of every cost. */
    baseCurrency: z.string(),
    /** To the customer's currency, newest day first; empty where that is the shop's. */
    exchangeRates: z.array(ExchangeRate),
    validUntil: Day,
    leadTimeDays: z.int(),
    terms: z.string(),
    calcVersion: z.string(),
  })
  .meta({ id: 'QuotationSheet' });
export type QuotationSheet = z.output<typeof QuotationSheet>;

export const getQuotationSheet = defineQuery({
  name: 'getQuotationSheet',
  tags: ['sales'],
  path: '/customers/:id/quotation-sheet',
  access: 'quotations.write',
  summary: 'Parts, recipes, racks, supplies and rates to price a quotation with',
  params: { id: PathId },
  reply: QuotationSheet,
});

export const getOrderSheet = defineQuery({
  name: 'getOrderSheet',
  tags: ['sales'],
  path: '/customers/:id/order-sheet',
  access: 'orders.write',
  summary: 'Parts, recipes, racks and supplies to enter an order without a quotation with',
  params: { id: PathId },
  reply: OrderSheet,
});
