import { EvidenceKind } from '../colour/evidence.ts';
import { EvidenceException, EvidenceVerdict, UnprovedWord } from '../colour/evidence-gate.ts';
import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { CustomerRef } from '../catalog/customers.ts';
import { RecipeRef } from '../sales/orders.ts';
import { PartRef } from '../catalog/parts.ts';
import { StepKind, TankContents } from '../catalog/steps.ts';
import { Count, Csv, Day, Id, Instant, Line, PathId, Version, listQuery, page } from '../kernel/scalars.ts';
import { TravelerKind, TravelerStatus } from './travelers.ts';

export const LotStatus = z.enum(['released', 'running', 'finished', 'passed', 'shipped', 'cancelled']);

export const LotHold = z.object({
  id: Id,
  reason: z.string(),
  placedBy: z.string(),
  placedAt: Instant,
  releasedBy: z.string().nullable(),
  releasedAt: Instant.nullable(),
  releaseReason: z.string().nullable(),
});
export const FinalCheck = z.object({
  id: Id,
  acceptedCount: Count,
  rejectedCount: Count,
  reworkCount: Count,
  reason: z.string(),
  notes: z.string(),
  checkedBy: z.string(),
  checkedAt: Instant,
});
export const Shipment = z.object({
  id: Id,
  number: z.string(),
  quantity: Count,
  carrier: z.string(),
  document: z.string(),
  notes: z.string(),
  shippedBy: z.string(),
  shippedAt: Instant,
});

export const Lot = z
  .object({
    id: Id,
    number: z.string(),
    status: LotStatus,
    held: z.boolean(),
    customer: CustomerRef,
    order: z.object({
      id: Id,
      number: z.string(),
      lineId: Id,
      line: z.int(),
      customerOrderNumber: z.string(),
    }),
    part: PartRef,
    recipe: RecipeRef,
    rack: z.object({ id: Id, code: z.string(), name: z.string() }).nullable(),
    supply: z.object({ id: Id, code: z.string(), name: z.string() }).nullable(),
    quantity: Count,
    acceptedCount: Count,
    rejectedCount: Count,
    shippedCount: Count,
    /** How often pieces of it were stripped: each strip takes metal. */
    stripCount: Count,
    /** Off the last signed step and neither accepted nor rejected yet. */
    toCheck: Count,
    dueDate: Day,
    priority: z.int(),
    plannedStartAt: Instant.nullable(),
    plannedEndAt: Instant.nullable(),
    createdAt: Instant,
    travelers: z.array(
      z.object({
        id: Id,
        number: z.string(),
        revision: z.int(),
        kind: TravelerKind,
        status: TravelerStatus,
        quantity: Count,
        changeNote: z.string(),
        issuedBy: z.string(),
        issuedAt: Instant,
        signedSteps: z.int(),
        steps: z.int(),
      }),
    ),
    holds: z.array(LotHold),
    checks: z.array(FinalCheck),
    shipments: z.array(Shipment),
    version: Version,
  })
  .meta({ id: 'Lot' });
export type Lot = z.output<typeof Lot>;

export const LotSummary = z.object({
  id: Id,
  number: z.string(),
  status: LotStatus,
  held: z.boolean(),
  customer: CustomerRef,
  orderId: Id,
  orderNumber: z.string(),
  part: PartRef,
  recipeName: z.string(),
  quantity: Count,
  rejectedCount: Count,
  dueDate: Day,
  signedSteps: z.int(),
  steps: z.int(),
  nextStep: z.string().nullable(),
  createdAt: Instant,
});
export type LotSummary = z.output<typeof LotSummary>;

const lotFilters = {
  search: listQuery.search,
  status: LotStatus.optional(),
  held: z.enum(['yes', 'no']).optional(),
  orderId: PathId.optional(),
  partId: PathId.optional(),
  sort: z.enum(['createdAt', '-createdAt', 'due', '-due']).optional(),
};
export const listLots = defineQuery({
  name: 'listLots',
  tags: ['production'],
  path: '/lots',
  access: 'lots.read',
  summary: 'Lots, the newest first unless asked otherwise',
  query: { ...listQuery, ...lotFilters },
  reply: page(LotSummary),
});
export const exportLots = defineQuery({
  name: 'exportLots',
  tags: ['production'],
  path: '/lots.csv',
  access: 'lots.read',
  summary: 'The list of lots as CSV',
  query: lotFilters,
  reply: Csv,
});
export const getLot = defineQuery({
  name: 'getLot',
  tags: ['production'],
  path: '/lots/:id',
  access: 'lots.read',
  summary: 'One lot: travelers, holds, checks, shipments',
  params: { id: PathId },
  reply: Lot,
});

/** One limit of a load and how many pieces it lets through; `null` when it does not apply. */
const LimitName = z.enum(['amps', 'hooks', 'window', 'weight', 'hoist', 'bathArea', 'cooling', 'validated']);
export const LoadPlan = z
  .object({
    toRelease: Count,
    limits: z.array(z.object({ limit: LimitName, label: z.string(), pieces: Count, formula: z.string() })),
    binding: z.array(LimitName),
    piecesPerLoad: Count,
    loads: z.array(Count),
    /** For every step that needs a tank: the tanks that hold the right thing, best first. */
    steps: z.array(
      z.object({
        position: z.int(),
        kind: StepKind,
        title: z.string(),
        contents: TankContents.nullable(),
        tanks: z.array(
          z.object({
            ...{ id: Id, code: z.string(), name: z.string(), concerns: z.array(z.string()) },
            /** Its bath is past a stop limit: a release through it takes somebody's word and reason. */
            stopped: z.boolean(),
          }),
        ),
      }),
    ),
    /** Racks that may go through the route, the one with the fewest loads first; `why` says why one takes no piece. */
    racks: z.array(
      z.object({ id: Id, code: z.string(), name: z.string(), loads: Count.nullable(), why: z.string() }),
    ),
    supplies: z.array(
      z.object({
        id: Id,
        code: z.string(),
        name: z.string(),
        maxVoltageV: z.number(),
        maxCurrentA: z.number(),
      }),
    ),
    rackId: Id.nullable(),
    supplyId: Id.nullable(),
    /** What stands in the way of a release, in words; empty when nothing does. */
    obstacles: z.array(z.string()),
    warnings: z.array(z.string()),
    /** Whether the recipe is proved on the part; a release of what is not takes somebody's word. */
    evidence: EvidenceVerdict,
  })
  .meta({ id: 'LoadPlan' });
export type LoadPlan = z.output<typeof LoadPlan>;

export const planLoads = defineQuery({
  name: 'planLoads',
  tags: ['production'],
  path: '/order-lines/:id/load-plan',
  access: 'lots.release',
  summary: 'How a line splits into loads on a rack and a supply, and which limit binds',
  params: { id: PathId },
  query: { rackId: PathId.optional(), supplyId: PathId.optional() },
  reply: LoadPlan,
});
export const releaseLots = defineCommand({
  name: 'releaseLots',
  tags: ['production'],
  path: '/order-lines/:id/release',
  access: 'lots.release',
  summary: 'Make one lot of each load and issue its traveler',
  params: { id: PathId },
  body: z.strictObject({
    rackId: Id.nullable(),
    supplyId: Id.nullable(),
    tanks: z.array(z.strictObject({ position: z.int().min(1).max(200), tankId: Id })).max(200),
    loads: z
      .array(z.int().min(1, 'must be at least 1 piece').max(1_000_000))
      .min(1, 'needs at least one load')
      .max(200),
    dueDate: Day,
    priority: z.int().min(0).max(9),
    /** Where the recipe is not proved on the part: who releases it all the same, and why. */
    unproved: UnprovedWord.optional(),
    /** Where a bath on the way is past a stop limit: why whoever releases sends the loads through it all the same. */
    stopped: z.strictObject({ reason: Line(500) }).optional(),
  }),
  reply: z.object({ lots: z.array(LotSummary) }),
  problems: ['not-proved', 'override-needed'],
  status: 201,
});

/** What a lot rests on, and what was allowed on it without evidence. */
export const LotEvidence = z
  .object({
    verdict: EvidenceVerdict,
    exceptions: z.array(EvidenceException),
    /** What the lot itself proves by now. */
    proves: z.object({ kind: EvidenceKind, recipeId: Id, revisionId: Id }).nullable(),
  })
  .meta({ id: 'LotEvidence' });
export type LotEvidence = z.output<typeof LotEvidence>;
export const getLotEvidence = defineQuery({
  name: 'getLotEvidence',
  tags: ['production'],
  path: '/lots/:id/evidence',
  access: 'lots.read',
  summary: 'What a lot rests on, and what was allowed on it without evidence',
  params: { id: PathId },
  reply: LotEvidence,
});

export const placeHold = defineCommand({
  name: 'placeHold',
  tags: ['production'],
  path: '/lots/:id/hold',
  access: 'lots.hold',
  summary: 'Put a lot on hold',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Lot,
  status: 201,
});
export const releaseHold = defineCommand({
  name: 'releaseHold',
  tags: ['production'],
  path: '/lots/:id/hold/release',
  access: 'lots.unhold',
  summary: 'Release every open hold of a lot, with the reason it may go on',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Lot,
});
export const cancelLot = defineCommand({
  name: 'cancelLot',
  tags: ['production'],
  path: '/lots/:id/cancel',
  access: 'lots.release',
  summary: 'Cancel a lot none of whose steps is signed; its pieces can be released again',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Lot,
  versioned: true,
});
