import { z } from 'zod';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Count, Day, Id, Line, listQuery, page, PathId, Text } from '../kernel/scalars.ts';
import { LotFacts, Nonconformance, NonconformanceItem } from './nonconformance-facts.ts';
import {
  Correctable,
  CostKind,
  Disposition,
  Fault,
  FoundAt,
  NonconformanceState,
  TakenFrom,
} from './nonconformance-words.ts';

const Pieces = z.int().min(1, 'must be at least 1 piece').max(1_000_000);

export const NewNonconformance = z.strictObject({
  /** What it is opened from, so that nothing of it is typed again. */
  holdId: Id.nullable(),
  finalCheckId: Id.nullable(),
  shipmentId: Id.nullable(),
  foundOn: Day,
  foundAt: FoundAt,
  foundBy: Line(200),
  customerReference: Text(100),
  piecesAffected: Pieces,
  piecesInspected: Pieces,
  fault: Fault,
  place: Text(200),
  description: Line(4000),
  requirement: Line(1000),
  measuredValue: z.number().min(-1e12).max(1e12).nullable(),
  measuredUnit: Text(20),
  /** What was done at once: other lots looked at, a bath held. */
  containment: Line(4000),
  photoIds: z.array(Id).max(12),
});
export type NewNonconformance = z.output<typeof NewNonconformance>;

/** What is known before anybody types: out of the hold, the final check or the shipment it is opened from. */
export const NonconformanceSheet = z
  .object({
    record: LotFacts,
    known: z.object({
      foundOn: Day,
      foundAt: FoundAt,
      foundBy: z.string(),
      piecesAffected: Count,
      piecesInspected: Count,
      description: z.string(),
      requirement: z.string(),
    }),
    /** Nonconformances of the lot that are open already. */
    open: z.array(z.object({ id: Id, number: z.string(), fault: Fault })),
  })
  .meta({ id: 'NonconformanceSheet' });
export type NonconformanceSheet = z.output<typeof NonconformanceSheet>;

export const getNonconformanceSheet = defineQuery({
  name: 'getNonconformanceSheet',
  tags: ['quality'],
  path: '/lots/:id/nonconformance-sheet',
  access: 'lots.hold',
  summary: 'What is known of a nonconformance before anybody types',
  params: { id: PathId },
  query: { holdId: PathId.optional(), finalCheckId: PathId.optional(), shipmentId: PathId.optional() },
  reply: NonconformanceSheet,
});
export const openNonconformance = defineCommand({
  name: 'openNonconformance',
  tags: ['quality'],
  path: '/lots/:id/nonconformances',
  access: 'lots.hold',
  summary:
    'Open a nonconformance of pieces of a lot: they are not shipped or certified until it is decided about them',
  params: { id: PathId },
  body: NewNonconformance,
  reply: Nonconformance,
  status: 201,
});
export const listNonconformances = defineQuery({
  name: 'listNonconformances',
  tags: ['quality'],
  path: '/nonconformances',
  access: 'lots.read',
  summary: 'Nonconformances, the newest first',
  query: {
    ...listQuery,
    state: NonconformanceState.optional(),
    fault: Fault.optional(),
    lotId: PathId.optional(),
  },
  reply: page(NonconformanceItem),
});
export const getNonconformance = defineQuery({
  name: 'getNonconformance',
  tags: ['quality'],
  path: '/nonconformances/:id',
  access: 'lots.read',
  summary: 'One nonconformance with everything decided and done since',
  params: { id: PathId },
  reply: Nonconformance,
});
export const disposeNonconformance = defineCommand({
  name: 'disposeNonconformance',
  tags: ['quality'],
  path: '/nonconformances/:id/dispositions',
  access: 'inspection.write',
  summary: 'Decide what becomes of pieces, by whose authority: the counts of the lot follow',
  params: { id: PathId },
  body: z.strictObject({
    disposition: Disposition,
    pieces: Pieces,
    takenFrom: TakenFrom,
    /** Who may decide this, by name or position. */
    authority: Line(200),
    concessionNumber: Text(100),
    concessionBy: Text(200),
    reason: Line(1000),
  }),
  reply: Nonconformance,
  status: 201,
  proof: 'signature',
});

const words = Line(4000);
/** What is written beside a nonconformance. Anybody who may hold a lot contains it, adds a photo and ends an action of their own. */
export const NewEntry = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('containment'), text: words }),
  z.strictObject({ kind: z.literal('photo'), text: Text(500), fileId: Id }),
  z.strictObject({ kind: z.literal('cause'), text: words }),
  z.strictObject({ kind: z.literal('action'), text: words, ownerId: Id, dueOn: Day }),
  z.strictObject({ kind: z.literal('action-done'), text: words, actionId: Id }),
  z.strictObject({ kind: z.literal('effect'), text: words, actionId: Id, effective: z.boolean() }),
  z.strictObject({
    kind: z.literal('cost'),
    text: Text(500),
    costKind: CostKind,
    /** Less than nothing takes back what was booked wrongly. */
    amount: z.string().regex(/^-?\d{1,9}(\.\d{1,2})?$/, 'must be an amount like 120.50'),
  }),
  /** The right value of what was opened wrongly, with the reason under `text`. */
  z.strictObject({ kind: z.literal('correction'), text: words, field: Correctable, newValue: Line(4000) }),
]);
export type NewEntry = z.output<typeof NewEntry>;

export const addNonconformanceEntry = defineCommand({
  name: 'addNonconformanceEntry',
  tags: ['quality'],
  path: '/nonconformances/:id/entries',
  access: 'lots.hold',
  summary:
    'Write containment, a photo, cause, action, its end or effect, cost or a correction beside a nonconformance',
  params: { id: PathId },
  body: NewEntry,
  reply: Nonconformance,
  status: 201,
});
export const closeNonconformance = defineCommand({
  name: 'closeNonconformance',
  tags: ['quality'],
  path: '/nonconformances/:id/close',
  access: 'inspection.write',
  summary: 'Close a nonconformance once nothing is missing',
  params: { id: PathId },
  body: z.strictObject({ text: Line(1000) }),
  reply: Nonconformance,
  proof: 'signature',
});
export const reopenNonconformance = defineCommand({
  name: 'reopenNonconformance',
  tags: ['quality'],
  path: '/nonconformances/:id/reopen',
  access: 'inspection.write',
  summary: 'Open a closed nonconformance again, with the reason',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(1000) }),
  reply: Nonconformance,
  proof: 'signature',
});
/** How many pieces of the last lots of a part went round again: what a rework allowance can rest on. */
export const ReworkShare = z
  .object({
    lots: Count,
    pieces: Count,
    reworked: Count,
    /** Fractions of 1 with 95 %, as if pieces failed one by one; null before the first lot was checked. */
    interval: z.object({ share: z.number(), low: z.number(), high: z.number() }).nullable(),
  })
  .meta({ id: 'ReworkShare' });
export type ReworkShare = z.output<typeof ReworkShare>;
export const getReworkShare = defineQuery({
  name: 'getReworkShare',
  tags: ['quality'],
  path: '/parts/:id/rework-share',
  access: 'lots.read',
  summary: 'The share of pieces reworked in the last lots of a part number and recipe, with its interval',
  params: { id: PathId },
  query: { recipeId: PathId.optional() },
  reply: ReworkShare,
});

/** Who an action can be given to. */
export const listActionOwners = defineQuery({
  name: 'listActionOwners',
  tags: ['quality'],
  path: '/nonconformance-owners',
  access: 'inspection.write',
  summary: 'People whom an action can be given to',
  reply: z.object({ people: z.array(z.object({ id: Id, name: z.string() })) }),
});
