import { z } from 'zod';
import { AnalysisSummary } from '../lab/analysis-records.ts';
import { defineQuery } from '../kernel/http.ts';
import { Lot, LotEvidence } from '../production/lots.ts';
import { LotColour } from '../quality/colour-readings.ts';
import { StepKind, StepQuantity } from '../catalog/steps.ts';
import { Count, Csv, Day, Id, Instant, listQuery, page, PathId } from '../kernel/scalars.ts';
import { NamedColour } from './named-colour.ts';
import { Traveler } from '../production/travelers.ts';

/** Something that happened to a lot, with words and links. */
export const TraceEvent = z.object({
  at: Instant,
  kind: z.enum([
    'quoted',
    'ordered',
    'received',
    'released',
    'traveler',
    'superseded',
    'step',
    'correction',
    'reading',
    'hold',
    'hold-released',
    'check',
    'evidence',
    'shipped',
    'certified',
    'nonconformance',
    'assessment',
    'cancelled',
  ]),
  title: z.string(),
  by: z.string().nullable(),
  detail: z.string(),
  /** The sign-off in `travelers` that this event is, for kind `step`. */
  signOffId: Id.nullable(),
});

export const LotTrace = z
  .object({
    lot: Lot,
    part: z.object({
      material: z.string(),
      baseMetal: z.string(),
      areaMm2: z.number(),
      areaMethod: z.string(),
      areaFoundBy: z.string(),
      areaFoundAt: Instant,
    }),
    quotation: z.object({ id: Id, number: z.string(), revision: z.int() }).nullable(),
    travelers: z.array(Traveler),
    events: z.array(TraceEvent),
    /** What was agreed of its colour, and what it was. */
    colour: LotColour,
    /** Why its settings were believed to give that colour, and who answered where nothing proved them. */
    evidence: LotEvidence,
    /** For each step signed in a bath that is analysed: the analysis that stood before it and the one after. */
    baths: z.array(
      z.object({
        signOffId: Id,
        bath: z.object({ id: Id, number: z.string() }),
        before: AnalysisSummary.nullable(),
        after: AnalysisSummary.nullable(),
      }),
    ),
  })
  .meta({ id: 'LotTrace' });
export type LotTrace = z.output<typeof LotTrace>;

export const getLotTrace = defineQuery({
  name: 'getLotTrace',
  tags: ['workspace'],
  path: '/lots/:id/trace',
  access: 'lots.read',
  summary: 'The whole chain of a lot, as a time line',
  params: { id: PathId },
  reply: LotTrace,
});

/** `voltageV:28:32` is a reading of at least 28 and at most 32 V; either bound may be left out. */
export const SettingRange = z
  .string()
  .regex(
    new RegExp(
      `^(?:${StepQuantity.options.join('|')}):(-?\\d{1,9}(?:\\.\\d{1,9})?)?:(-?\\d{1,9}(?:\\.\\d{1,9})?)?$`,
    ),
    'must look like voltageV:28:32',
  );
const traceFilters = {
  partId: PathId.optional(),
  customerId: PathId.optional(),
  materialId: PathId.optional(),
  recipeId: PathId.optional(),
  tankId: PathId.optional(),
  bathId: PathId.optional(),
  supplyId: PathId.optional(),
  personId: PathId.optional(),
  stepKind: StepKind.optional(),
  outside: z.enum(['yes', 'no']).optional(),
  /** Days in the shop's time zone, both included. */
  from: Day.optional(),
  to: Day.optional(),
  /** Up to four ranges, separated by commas; all must hold for the same step. */
  settings: z
    .string()
    .max(400)
    .refine((text) => text.split(',').length <= 4, 'takes at most four ranges')
    .refine(
      (text) => text.split(',').every((one) => SettingRange.safeParse(one).success),
      'must look like voltageV:28:32,temperatureC:20:',
    )
    .optional(),
};

export const TraceHit = z.object({
  signOffId: Id,
  lotId: Id,
  lotNumber: z.string(),
  customer: z.string(),
  part: z.string(),
  /** The colour that the lot asks for, where it was agreed in figures. */
  agreed: NamedColour.nullable(),
  material: z.string(),
  recipe: z.string(),
  travelerNumber: z.string(),
  travelerRevision: z.int(),
  position: z.int(),
  stepKind: StepKind,
  title: z.string(),
  tank: z.string().nullable(),
  bath: z.string().nullable(),
  supply: z.string().nullable(),
  person: z.string(),
  doneAt: Instant,
  countOut: Count,
  outside: z.boolean(),
  /** Signed by mistake: the step was not done. */
  notDone: z.boolean(),
  /** As corrected, where a correction was appended. */
  readings: z.array(z.object({ quantity: StepQuantity, value: z.number(), corrected: z.boolean() })),
});

export const searchTrace = defineQuery({
  name: 'searchTrace',
  tags: ['workspace'],
  path: '/trace',
  access: 'trace.read',
  summary: 'Signed steps by their actual settings, newest first',
  searches: true,
  query: { after: listQuery.after, limit: listQuery.limit, ...traceFilters },
  reply: page(TraceHit),
});
export const exportTrace = defineQuery({
  name: 'exportTrace',
  tags: ['workspace'],
  path: '/trace.csv',
  access: 'trace.read',
  summary: 'The trace search as a CSV file',
  query: traceFilters,
  reply: Csv,
});

/** What the trace search can be asked about. */
export const getTraceChoices = defineQuery({
  name: 'getTraceChoices',
  tags: ['workspace'],
  path: '/trace/choices',
  access: 'trace.read',
  summary: 'Tanks, recipes, materials and people to search by',
  reply: z.object({
    tanks: z.array(z.object({ id: Id, label: z.string() })),
    recipes: z.array(z.object({ id: Id, label: z.string() })),
    materials: z.array(z.object({ id: Id, label: z.string() })),
    people: z.array(z.object({ id: Id, label: z.string() })),
  }),
});
