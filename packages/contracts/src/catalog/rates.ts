import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { Id, Instant, Line, PathId, Quantity } from '../kernel/scalars.ts';
import type { Family } from './steps.ts';

/** A price per unit of something, in the shop's currency: a factor of a sum, not a sum. */
const Price = Quantity(1_000_000);
const Share = (max: number) => z.number().min(0).max(max);
const Seconds = Quantity(1_000_000);

/** What one family of work costs beside labour, energy and water. */
export const FamilyRates = z.strictObject({
  /** Holds equipment, space and the crew of the line; that crew is not charged again as labour. */
  linePerHour: Price,
  /** Heating and cooling power that this work's share of the line takes while a load runs. */
  heatingKw: Quantity(10_000),
  rinseLPerLoad: Quantity(1_000_000),
  /** Share of the pieces that go round again. */
  reworkShare: Share(0.9),
  /** Taking a faulty film off again, per wetted area. */
  stripPerM2: Price,
  chemical: z.strictObject({
    consumptionGPerM2: Quantity(100_000),
    pricePerKg: Price,
    dragOutLPerM2: Quantity(100),
    concentrationGPerL: Quantity(2000),
    /** Share of the drag-out that is brought back. */
    recoveryShare: Share(1),
  }),
});
export type FamilyRates = z.output<typeof FamilyRates>;

/**
 * Everything that a price is computed from beside the part, the recipe and the load, under the names the costing
 * calculation uses. Money is in the shop's currency; a share of 0.3 is 30 per cent.
 */
export const Rates = z
  .strictObject({
    labourPerHour: Price,
    energyPerKwh: Price,
    waterPerM3: Price,
    wastePerM3: Price,
    /** Of the direct cost. */
    overheadShare: Share(10),
    /** Absorbed by each hour of labour, beside or instead of the share. */
    overheadPerLabourHour: Price,
    /** Of the price, not of the cost. */
    marginShare: Share(0.95),
    minimumLot: Price,
    expediteShare: Share(10),
    /** Times where a line of a quotation says nothing else: set-up once a lot, the others for each piece. */
    labour: z.strictObject({
      setupS: Seconds,
      rackS: Seconds,
      unrackS: Seconds,
      inspectS: Seconds,
      packS: Seconds,
    }),
    /** For each masked feature of each piece, taking the mask off included. */
    masking: z.strictObject({ timeS: Seconds, materialCost: Price }),
    /** Once a lot. */
    charges: z.strictObject({ certificateCost: Price, packingCost: Price }),
    /** Quantities a new line is priced at. */
    quantityBreaks: z.array(z.int().min(1).max(1_000_000)).min(1).max(10),
    families: z.strictObject({
      'interference-colour': FamilyRates,
      'caustic-colour': FamilyRates,
      'dyed-anodize': FamilyRates,
    } satisfies Record<Family, typeof FamilyRates>),
  })
  .superRefine(({ quantityBreaks }, context) => {
    quantityBreaks.forEach((quantity, index) => {
      if (index > 0 && quantity <= (quantityBreaks[index - 1] ?? 0)) {
        context.addIssue({
          code: 'custom',
          path: ['quantityBreaks', index],
          message: 'must be above the quantity before it',
        });
      }
    });
  });
export type Rates = z.output<typeof Rates>;

/** The rates from one moment on. A card is never edited: a new revision takes its place. */
export const RateCard = z
  .object({
    id: Id,
    revision: z.int().positive(),
    rates: Rates,
    note: z.string(),
    createdBy: z.string(),
    createdAt: Instant,
    /** Whether new quotations are priced with it. */
    current: z.boolean(),
  })
  .meta({ id: 'RateCard' });
export type RateCard = z.output<typeof RateCard>;

export const RateCardItem = RateCard.omit({ rates: true });
export type RateCardItem = z.output<typeof RateCardItem>;

export const listRateCards = defineQuery({
  name: 'listRateCards',
  tags: ['catalog'],
  path: '/rate-cards',
  access: 'rates.read',
  summary: 'Every revision of the rates, newest first',
  reply: z.object({ items: z.array(RateCardItem) }),
});
export const getCurrentRates = defineQuery({
  name: 'getCurrentRates',
  tags: ['catalog'],
  path: '/rate-cards/current',
  access: 'rates.read',
  summary: 'The rates in force, and the revision before; no card before the first',
  reply: z.object({ card: RateCard.nullable(), before: RateCard.nullable() }),
});
export const getRateCard = defineQuery({
  name: 'getRateCard',
  tags: ['catalog'],
  path: '/rate-cards/:id',
  access: 'rates.read',
  summary: 'One revision of the rates, and the one before it',
  params: { id: PathId },
  reply: z.object({ card: RateCard, before: RateCard.nullable() }),
});
export const createRateCard = defineCommand({
  name: 'createRateCard',
  tags: ['catalog'],
  path: '/rate-cards',
  access: 'rates.write',
  summary: 'Put a new revision of the rates in force',
  body: z.strictObject({
    /** The revision in force when the form was opened, 0 before the first; refused when another took its place. */
    fromRevision: z.int().min(0).max(1_000_000),
    note: Line(500),
    rates: Rates,
  }),
  reply: RateCard,
  status: 201,
  problems: ['version-conflict'],
});
