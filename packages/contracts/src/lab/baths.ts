import { z } from 'zod';
import { AnalysisResult, AnalysisSummary } from './analysis-records.ts';
import { AdditionSummary } from './addition-records.ts';
import { BathHold } from './bath-holds.ts';
import { AnalysisPlan, BathSetup, NewBathSetup } from './bath-setups.ts';
import { BathStatus, BathState } from './bath-status.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { ComponentKey } from './lab-scalars.ts';
import { Id, Instant, Line, listQuery, page, PathId, Quantity, Text, Version } from '../kernel/scalars.ts';
import { TankContents } from '../catalog/steps.ts';

/** Where a dump or a decant went. */
export const WasteCategory = z.enum([
  'alkaline',
  'acid',
  'metal-bearing',
  'fluoride-bearing',
  'dye',
  'rinse-water',
  'reused',
  'other',
]);
export type WasteCategory = z.output<typeof WasteCategory>;
export const Waste = z.object({
  volumeL: Quantity(1e7),
  category: WasteCategory,
  /** Own treatment, a carrier, another tank. */
  destination: Line(200),
  /** The number of the waste document; empty where none is asked for. */
  document: Text(100),
});
export type Waste = z.output<typeof Waste>;

/** One fill of a tank, from its making up to its dump. */
export const Bath = z
  .object({
    id: Id,
    number: z.string(),
    tankId: Id,
    tankCode: z.string(),
    contents: TankContents,
    madeUpAt: Instant,
    madeUpBy: z.string(),
    dumpedAt: Instant.nullable(),
    dumpedBy: z.string().nullable(),
    dumpReason: z.string().nullable(),
    waste: Waste.nullable(),
    notes: z.string(),
    /** Rises with every analysis, addition and change of the bath. */
    version: Version,
  })
  .meta({ id: 'Bath' });
export type Bath = z.output<typeof Bath>;

export const listBaths = defineQuery({
  name: 'listBaths',
  tags: ['lab'],
  path: '/tanks/:id/baths',
  access: 'tanks.read',
  summary: 'The baths of a tank, newest first',
  params: { id: PathId },
  query: { after: listQuery.after, limit: listQuery.limit },
  reply: page(Bath),
});
export const startBath = defineCommand({
  name: 'startBath',
  tags: ['lab'],
  path: '/tanks/:id/baths',
  access: 'tanks.write',
  summary:
    'Start a bath in an empty tank; it holds what the tank is for and takes over the monitoring plan of the bath before',
  params: { id: PathId },
  body: z.strictObject({
    notes: Text(2000),
    /** When it was made up; left out, now. A bath that stands already has its real age, and its past analyses can be brought. */
    madeUpAt: Instant.optional(),
  }),
  reply: Bath,
  status: 201,
});
export const dumpBath = defineCommand({
  name: 'dumpBath',
  tags: ['lab'],
  path: '/baths/:id/dump',
  access: 'tanks.write',
  summary:
    'Dump a bath, with the reason and, for a bath that is watched, where it went; its record is closed',
  params: { id: PathId },
  body: z.strictObject({
    reason: Line(500),
    waste: Waste.nullable().optional(),
    /** When it left the tank; left out, now. Never before what is recorded of the fill. */
    dumpedAt: Instant.optional(),
  }),
  reply: Bath,
  versioned: true,
});

/** What was done in a bath since it was made up, or since an analysis. */
export const BathUse = z.object({
  days: z.number(),
  loads: z.int(),
  areaM2: z.number(),
  ampereHours: z.number(),
});
export type BathUse = z.output<typeof BathUse>;

export const BathLife = z
  .object({
    ...BathUse.shape,
    additions: z.int(),
    analyses: z.int(),
    /** Area by the drag-out of the setup; an estimate. */
    dragOutL: z.number(),
    /** Chemicals added, make-up included, by chemical. */
    chemicals: z.array(
      z.object({ chemicalId: Id, name: z.string(), kg: z.number(), cost: z.string().nullable() }),
    ),
    /** All that went in less what was decanted or dumped: chemicals, water and liquor. */
    bookedKg: z.number(),
  })
  .meta({ id: 'BathLife' });
export type BathLife = z.output<typeof BathLife>;

/** How far a plan has run since its last analysis; at 1 it is due. */
export const PlanState = z.object({
  ...AnalysisPlan.shape,
  methodCode: z.string().nullable(),
  lastAt: Instant.nullable(),
  since: BathUse,
  share: z.number(),
  due: z.boolean(),
});
export type PlanState = z.output<typeof PlanState>;

/** An analysis that somebody or an addition asks for, open until an analysis closes it. */
export const AnalysisRequest = z
  .object({
    id: Id,
    bathId: Id,
    why: z.enum(['after-addition', 'make-up', 'asked']),
    /** Empty: any of the bath's components. */
    components: z.array(z.string()),
    dueAt: Instant,
    addition: z.object({ id: Id, number: z.string() }).nullable(),
    note: z.string(),
    askedBy: z.string(),
    askedAt: Instant,
  })
  .meta({ id: 'AnalysisRequest' });
export type AnalysisRequest = z.output<typeof AnalysisRequest>;

// Reads for whole pages

/** A bath on the wet lab's board. */
export const BathSummary = z
  .object({
    id: Id,
    number: z.string(),
    tank: z.object({ id: Id, code: z.string(), name: z.string() }),
    contents: TankContents,
    madeUpAt: Instant,
    dumpedAt: Instant.nullable(),
    status: BathStatus,
    /** The latest of each component, in the order of the setup. */
    latest: z.array(AnalysisResult),
    lastAnalysedAt: Instant.nullable(),
    plannedAdditions: z.int(),
  })
  .meta({ id: 'BathSummary' });
export type BathSummary = z.output<typeof BathSummary>;

export const listBathBoard = defineQuery({
  name: 'listBathBoard',
  tags: ['lab'],
  path: '/baths',
  access: 'lab.read',
  summary: 'Baths with status and latest results, in the order of the line',
  query: {
    ...listQuery,
    /** `open` when not said. */
    fills: z.enum(['open', 'dumped', 'all']).optional(),
    contents: TankContents.optional(),
    state: BathState.optional(),
  },
  reply: page(BathSummary),
});

/** Everything the page of a bath shows. */
export const BathPage = z
  .object({
    bath: Bath,
    tankName: z.string(),
    setup: BathSetup.nullable(),
    status: BathStatus,
    /** The latest of each component that is watched, in the order of the setup. */
    latest: z.array(AnalysisResult),
    plans: z.array(PlanState),
    requests: z.array(AnalysisRequest),
    /** What keeps work out of it now; then the last that were released. */
    holds: z.array(BathHold),
    analyses: z.array(AnalysisSummary),
    additions: z.array(AdditionSummary),
    life: BathLife,
    /** Other baths in this tank, newest first. */
    otherFills: z.array(
      z.object({ id: Id, number: z.string(), madeUpAt: Instant, dumpedAt: Instant.nullable() }),
    ),
  })
  .meta({ id: 'BathPage' });
export type BathPage = z.output<typeof BathPage>;

export const getBathPage = defineQuery({
  name: 'getBathPage',
  tags: ['lab'],
  path: '/baths/:id',
  access: 'lab.read',
  summary: 'A bath with its latest results, status, plans, requests, last analyses and additions, and life',
  params: { id: PathId },
  reply: BathPage,
});
export const setBathSetup = defineCommand({
  name: 'setBathSetup',
  tags: ['lab'],
  method: 'PUT',
  path: '/baths/:id/setup',
  access: 'lab.write',
  summary:
    'Set the monitoring plan of a bath; analyses keep the limits that were in force when they were made',
  params: { id: PathId },
  body: NewBathSetup,
  reply: BathPage,
  versioned: true,
});
export const listBathSetups = defineQuery({
  name: 'listBathSetups',
  tags: ['lab'],
  path: '/baths/:id/setups',
  access: 'lab.read',
  summary: 'Every revision of a bath’s monitoring plan, newest first',
  params: { id: PathId },
  reply: z.object({ items: z.array(BathSetup) }),
});
export const requestAnalysis = defineCommand({
  name: 'requestAnalysis',
  tags: ['lab'],
  path: '/baths/:id/requests',
  access: 'lots.hold',
  summary: 'Ask for an analysis',
  params: { id: PathId },
  body: z.strictObject({
    components: z.array(ComponentKey).max(12),
    dueAt: Instant,
    note: Text(500),
  }),
  reply: AnalysisRequest,
  status: 201,
});
export const closeAnalysisRequest = defineCommand({
  name: 'closeAnalysisRequest',
  tags: ['lab'],
  path: '/analysis-requests/:id/close',
  access: 'lab.write',
  summary: 'Close a request without an analysis, with the reason',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: AnalysisRequest,
});
