import { z } from 'zod';
import { reading, writing } from './http.ts';
import { Id, Instant, Line, PathId, Quantity } from './scalars.ts';
import type { Family } from './steps.ts';

/** A price per unit of something, in the shop's currency: a factor of a sum, not a sum. */
const Price = Quantity(1_000_000);
const Share = (max: number) => z.number().min(0).max(max);
const Seconds = Quantity(86_400);

/** What one family of work costs beside labour, energy and water. Densities and drag-out are per m² of coated area. */
const FamilyRates = z.strictObject({
  /** Holds equipment, space and the crew of the line; that crew is not charged again as labour. */
  linePerH: Price,
  /** Share of the heaters' power that a load in the line answers for. */
  heatingKw: Quantity(10_000),
  chemicalsGPerM2: Quantity(100_000),
  chemicalsPerKg: Price,
  dragOutLPerM2: Quantity(100),
  dragOutConcentrationGPerL: Quantity(2000),
  /** Part of the drag-out that is brought back, 0 to 1. */
  dragOutRecovery: Share(1),
  rinseLPerLoad: Quantity(1_000_000),
  /** Part of the pieces that go round again, 0 up to a half. */
  reworkRate: Share(0.5),
  stripPerM2: Price,
});
export type FamilyRates = z.output<typeof FamilyRates>;

/** Everything that a price is computed from beside the part, the recipe and the load. Shares are 0 to 1. */
export const Rates = z
  .strictObject({
    labourPerH: Price,
    energyPerKwh: Price,
    waterPerM3: Price,
    wastePerM3: Price,

    setUpH: Quantity(100),
    rackS: Seconds,
    unrackS: Seconds,
    /** For each masked feature of each piece. */
    maskS: Seconds,
    maskMaterialPerFeature: Price,
    inspectS: Seconds,
    packS: Seconds,
    packingMaterialPerLot: Price,
    certificatePerLot: Price,

    overheadShare: Share(10),
    /** Of the price, not of the cost. */
    marginShare: Share(0.95),
    minimumLotCharge: Price,
    expediteShare: Share(10),
    /** Quantities a new line is priced at. */
    quantityBreaks: z.array(z.int().min(1).max(1_000_000)).min(1).max(10),

    families: z.strictObject({
      'interference-colour': FamilyRates,
      'caustic-colour': FamilyRates,
      'dyed-anodize': FamilyRates,
    } satisfies Record<Family, typeof FamilyRates>),
  })
  .superRefine(({ quantityBreaks }, context) => {
    quantityBreaks.forEach((quantity, at) => {
      if (at > 0 && quantity <= (quantityBreaks[at - 1] ?? 0)) {
        context.addIssue({
          code: 'custom',
          path: ['quantityBreaks', at],
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

export const listRateCards = reading({
  path: '/rate-cards',
  access: 'rates.read',
  summary: 'Every revision of the rates, newest first',
  reply: z.object({ items: z.array(RateCardItem) }),
});
export const getCurrentRates = reading({
  path: '/rate-cards/current',
  access: 'rates.read',
  summary: 'The rates in force, and the revision before; no card before the first',
  reply: z.object({ card: RateCard.nullable(), before: RateCard.nullable() }),
});
export const getRateCard = reading({
  path: '/rate-cards/:id',
  access: 'rates.read',
  summary: 'One revision of the rates, and the one before it',
  params: { id: PathId },
  reply: z.object({ card: RateCard, before: RateCard.nullable() }),
});
export const createRateCard = writing({
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
});
