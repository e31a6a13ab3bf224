import { z } from 'zod';
import { AnalysisSummary } from './analysis-records.ts';
import { reading } from './http.ts';
import { Lot } from './lots.ts';
import { StepKind, StepQuantity } from './steps.ts';
import { Count, Day, Id, Instant, isStorable, listQuery, page, PathId, unstorable } from './scalars.ts';
import { Traveler } from './travelers.ts';

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
    'hold',
    'hold-released',
    'check',
    'shipped',
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

export const getLotTrace = reading({
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
  /** As corrected, where a correction was appended. */
  readings: z.array(z.object({ quantity: StepQuantity, value: z.number(), corrected: z.boolean() })),
});

export const searchTrace = reading({
  path: '/trace',
  access: 'trace.read',
  summary: 'Signed steps by what was really set, newest first',
  query: { after: listQuery.after, limit: listQuery.limit, ...traceFilters },
  reply: page(TraceHit),
});
/** The same search as a CSV file; mounted by hand since it streams text. */
export const exportTrace = {
  path: '/trace.csv',
  access: 'trace.read',
  query: z.object(traceFilters),
} as const;

/** What the trace search can be asked about. */
export const getTraceChoices = reading({
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

/** Anything with a number or a name, found from the search box. */
export const FoundRecord = z.object({
  kind: z.enum([
    'customer',
    'part',
    'quotation',
    'order',
    'lot',
    'traveler',
    'recipe',
    'tank',
    'bath',
    'shipment',
    'analysis',
    'addition',
    'chemical',
    'coupons',
  ]),
  id: Id,
  number: z.string(),
  title: z.string(),
  /** The page of the web app that shows it. */
  href: z.string(),
});
export const searchNumbers = reading({
  path: '/search',
  access: 'signed-in',
  summary: 'Any number or name, among the records the person may read',
  query: {
    q: z.string().trim().min(1).max(100).refine(isStorable, unstorable),
  },
  reply: z.object({ items: z.array(FoundRecord) }),
});

const Waiting = z.object({
  href: z.string(),
  title: z.string(),
  detail: z.string(),
  when: z.string().nullable(),
  urgent: z.boolean(),
});
/** What waits for me, by role; a heading is there only for those who can act on it. */
export const getToday = reading({
  path: '/today',
  access: 'signed-in',
  summary: 'What waits for whoever is signed in',
  reply: z.object({
    day: Day,
    sections: z.array(
      z.object({
        key: z.string(),
        title: z.string(),
        empty: z.string(),
        total: Count,
        items: z.array(Waiting),
      }),
    ),
  }),
});
