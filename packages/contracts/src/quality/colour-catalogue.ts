import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { ColourGrade, MeasuringConditions } from '../catalog/colour-grades.ts';
import { RecipeRevisionRef } from '../catalog/recipes.ts';
import { Family } from '../catalog/steps.ts';
import { EvidenceKind } from '../colour/evidence.ts';
import { EvidenceVerdict } from '../colour/evidence-gate.ts';
import { defineQuery } from '../kernel/http.ts';
import { Count, Csv, Day, Id, Instant, Lab, listQuery, Money, page, PathId, Pdf } from '../kernel/scalars.ts';

/** What a finish is: a film that colours by interference, a dark film (black, brown, grey), or a dyed film. */
export const ColourClass = z.enum(['interference', 'dark', 'dyed']);
export type ColourClass = z.output<typeof ColourClass>;
export const colourClassNames: Record<ColourClass, string> = {
  interference: 'interference colour',
  dark: 'dark film',
  dyed: 'dyed film',
};

/** Figures of a colour, and of what they were read: lots before first articles, those before coupons. */
export const MadeColour = z.object({
  lab: Lab,
  from: z.enum(['lots', ...EvidenceKind.options]),
  /** Readings or coupons that the figures are the mean of. */
  count: Count,
  /** Null where the evidence does not keep them. */
  conditions: MeasuringConditions.nullable(),
});
export type MadeColour = z.output<typeof MadeColour>;

/** How alike lots came out: root mean square of CIE 1976 dE*ab from their mean. */
export const ColourSpread = z.object({ deltaEab: z.number(), readings: Count, lots: Count });
export type ColourSpread = z.output<typeof ColourSpread>;

/** Fewer quoted lines than this say nothing of a price. */
export const LEAST_QUOTED = 4;
/** Half of the prices quoted lie between. In the shop's currency, for a square decimetre of coated area. */
export const PriceClass = z.object({ low: Money, high: Money, currency: z.string(), lines: Count });
export type PriceClass = z.output<typeof PriceClass>;

/**
 * The colour of an approved recipe on one alloy in one condition; without an alloy where nothing proves it. Lots that were read by
 * several standards, as zones of a piece may be, are a colour for each.
 */
export const CatalogueColour = z
  .object({
    /** Of the row: the revision, the alloy and the standard. */
    id: z.string(),
    recipe: RecipeRevisionRef,
    family: Family,
    baseMetals: z.array(BaseMetal),
    /** The colour in the words of the recipe. */
    words: z.string(),
    class: ColourClass.nullable(),
    alloy: z
      .object({ materialId: Id, name: z.string(), condition: z.string(), baseMetal: BaseMetal })
      .nullable(),
    /** That the lots were read by; null where none was read, or nothing was agreed. */
    standard: z.object({ id: Id, code: z.string(), name: z.string() }).nullable(),
    colour: MadeColour.nullable(),
    /** The best that it is known by; null where nothing proves it. */
    grade: ColourGrade.nullable(),
    proof: z.object({
      coupons: Count,
      trialLots: Count,
      firstArticles: Count,
      /** The day on which the last of it expires; null where some never does, or there is none. */
      expiresOn: Day.nullable(),
      records: z.array(
        z.object({ kind: EvidenceKind, label: z.string(), seriesId: Id.nullable(), lotId: Id.nullable() }),
      ),
    }),
    spread: ColourSpread.nullable(),
    /** Null below {@link LEAST_QUOTED} lines, and for those who may not see quotations. */
    price: PriceClass.nullable(),
    lastMade: z.object({ lotId: Id, lot: z.string(), at: Instant }).nullable(),
    /** From the colour that was asked for, dE00. */
    distance: z.number().nullable(),
    /** Of the material that was asked for. */
    verdict: EvidenceVerdict.nullable(),
  })
  .meta({ id: 'CatalogueColour' });
export type CatalogueColour = z.output<typeof CatalogueColour>;

/** How far a colour may lie from the one that is asked for, dE00, where nobody says. */
export const NEAR_DELTA_E = 10;

const Figure = (min: number, max: number) => z.coerce.number().min(min).max(max).optional();
const filters = {
  search: listQuery.search,
  baseMetal: BaseMetal.optional(),
  /** What can be made on this very material: proved, proved on a near one, or nothing; one row a recipe. */
  materialId: PathId.optional(),
  family: Family.optional(),
  grade: ColourGrade.optional(),
  L: Figure(0, 100),
  a: Figure(-200, 200),
  b: Figure(-200, 200),
  within: Figure(0.1, 50),
};

export const listColourCatalogue = defineQuery({
  name: 'listColourCatalogue',
  tags: ['quality'],
  path: '/colour-catalogue',
  access: 'recipes.read',
  summary:
    'Colours of approved recipes by metal and alloy, with what proves them; nearest first where a colour is asked for',
  query: { ...listQuery, ...filters },
  reply: page(CatalogueColour),
});
export const exportColourCatalogue = defineQuery({
  name: 'exportColourCatalogue',
  tags: ['quality'],
  path: '/colour-catalogue.csv',
  access: 'recipes.read',
  summary: 'The catalogue of colours as CSV',
  query: filters,
  reply: Csv,
});
export const printColourCatalogue = defineQuery({
  name: 'printColourCatalogue',
  tags: ['quality'],
  path: '/colour-catalogue/pdf',
  access: 'recipes.read',
  summary: 'A sheet of swatches by metal, for customers: figures, names and grades, without prices',
  query: filters,
  reply: Pdf,
  perMinute: 30,
});
