import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { FamilyRates } from '../catalog/rates.ts';
import { Id, Instant, Money } from '../kernel/scalars.ts';
import { Family } from '../catalog/steps.ts';

/** A delivery that a price was found from. */
const Receipt = z.object({
  lotId: Id,
  supplierLot: z.string(),
  receivedAt: Instant,
  receivedKg: z.number(),
  pricePerKg: Money,
  /** It came without a price of its own, and counts at that of the chemical. */
  atListPrice: z.boolean(),
});

/** What the stock says of the chemicals of one line of work, and how that was found. */
export const StockRates = z
  .object({
    family: Family,
    baths: z.array(
      z.object({
        id: Id,
        number: z.string(),
        tankCode: z.string(),
        areaM2: z.number(),
        dragOutLPerM2: z.number(),
        /** Mean of what was analysed meanwhile; null where nothing was. */
        concentrationGPerL: z.number().nullable(),
      }),
    ),
    /** What was put in beside the make-up. */
    uses: z.array(
      z.object({
        chemicalId: Id,
        code: z.string(),
        name: z.string(),
        kg: z.number(),
        assayMassFraction: z.number(),
        /** Mean of the receipts by what came in; null without any price. */
        pricePerKg: z.number().nullable(),
        receipts: z.array(Receipt),
      }),
    ),
    areaM2: z.number(),
    /** For the rate card; null where it cannot be told, and then it is said why. */
    chemical: FamilyRates.shape.chemical.nullable(),
    why: z.string(),
  })
  .meta({ id: 'StockRates' });
export type StockRates = z.output<typeof StockRates>;

export const getStockRates = defineQuery({
  name: 'getStockRates',
  tags: ['lab'],
  path: '/rate-cards/from-stock',
  access: 'rates.read',
  summary: 'Chemicals of the rate card as receipts, additions and baths tell them; nothing is changed',
  query: { days: z.coerce.number().int().min(7).max(3650).optional() },
  reply: z.object({ from: Instant, families: z.array(StockRates) }),
});
