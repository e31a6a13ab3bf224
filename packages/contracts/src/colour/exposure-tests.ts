import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import {
  Count,
  Csv,
  Day,
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Text,
  Version,
} from '../kernel/scalars.ts';
import { ExposureInterruption, ExposureLimits, ExposureReading } from './exposure-chamber.ts';
import { ExposureObservation } from './exposure-observations.ts';
import { ScanFinish } from './polarization-scans.ts';

export const ExposureKind = z.enum([
  'immersion',
  'outdoor-exposure',
  'indoor-exposure',
  'neutral-salt-spray',
  'acetic-salt-spray',
  'copper-acetic-salt-spray',
  'humidity',
]);
export type ExposureKind = z.output<typeof ExposureKind>;

/** How each kind is called, the standards usually named for it (from memory), and the most hours that are believed. */
export const exposureKinds: Record<ExposureKind, { name: string; standards: string[]; mostHours: number }> = {
  immersion: { name: 'immersion', standards: ['ASTM G31', 'ISO 2812-2'], mostHours: 10_000 },
  'outdoor-exposure': { name: 'outdoor exposure', standards: ['ISO 8565', 'ASTM G50'], mostHours: 90_000 },
  'indoor-exposure': { name: 'indoor exposure', standards: ['ISO 8565'], mostHours: 90_000 },
  'neutral-salt-spray': {
    ...{ name: 'neutral salt spray (NSS)', standards: ['ISO 9227', 'ISO 7253', 'ASTM B117'] },
    mostHours: 6000,
  },
  'acetic-salt-spray': {
    ...{ name: 'acetic acid salt spray (AASS)', standards: ['ISO 9227', 'ASTM G85'], mostHours: 6000 },
  },
  'copper-acetic-salt-spray': {
    ...{ name: 'copper-accelerated salt spray (CASS)', standards: ['ISO 9227', 'ASTM B368'] },
    mostHours: 2000,
  },
  humidity: { name: 'humidity', standards: ['ISO 6270-2', 'ASTM D2247'], mostHours: 6000 },
};

const specimen = {
  /** What is marked on it. */
  mark: Line(40),
  finish: ScanFinish,
  /** Of what the film is; empty for bare metal. */
  film: Text(300),
  /** The oil or the seal, by its name; empty where there is none. */
  protective: Text(200),
  areaMm2: Positive(1e8),
  edgesMasked: z.boolean(),
  note: Text(500),
};
export const NewExposureSpecimen = z.strictObject({
  ...specimen,
  materialId: Id,
  recipeRevisionId: Id.nullable(),
  couponSeriesId: Id.nullable(),
});
export type NewExposureSpecimen = z.output<typeof NewExposureSpecimen>;

const facts = {
  name: Line(100),
  kind: ExposureKind,
  /** `tap water`, `3.5 % NaCl`, `roof, town`. */
  medium: Line(100),
  concentrationGPerL: z.number().positive().max(1000).nullable(),
  temperatureC: z.number().min(-60).max(150).nullable(),
  place: Line(200),
  /** Named by a person; which clauses it takes is theirs to say. */
  standard: Text(200),
  lookEveryDays: z.int().min(1).max(365),
  plannedStart: Day.nullable(),
  /** Of exposure: interruptions do not count. */
  plannedHours: z.number().positive().max(90_000),
  limits: ExposureLimits,
  note: Text(2000),
};
export const NewExposureTest = z.strictObject({
  ...facts,
  responsibleId: Id,
  specimens: z.array(NewExposureSpecimen).min(1).max(100),
});
export type NewExposureTest = z.output<typeof NewExposureTest>;

export const ExposureState = z.enum(['planned', 'running', 'ended', 'withdrawn']);
export type ExposureState = z.output<typeof ExposureState>;
const Material = z.object({ id: Id, name: z.string(), condition: z.string(), baseMetal: BaseMetal });

/** Between two looks; `byH` is null where no look showed it. Hours of exposure. */
const Span = z.object({ afterH: z.number(), byH: z.number().nullable() });

export const ExposureSpecimen = z
  .object({
    ...specimen,
    id: Id,
    material: Material,
    recipe: z
      .object({ recipeId: Id, revisionId: Id, number: z.string(), name: z.string(), revision: z.int() })
      .nullable(),
    couponSeries: z.object({ id: Id, code: z.string(), revision: z.int() }).nullable(),
    observations: z.array(ExposureObservation),
    /** Days on which a look was due and nobody looked; they are never filled in. */
    missedDays: z.array(Day),
    /** Days whose look can still be entered. */
    dueDays: z.array(Day),
    firstCorrosion: Span,
  })
  .meta({ id: 'ExposureSpecimen' });
export type ExposureSpecimen = z.output<typeof ExposureSpecimen>;

/** Specimens of one alloy, film and oil, that may be spoken of together. */
const ExposureGroup = z.object({
  material: Material,
  finish: ScanFinish,
  film: z.string(),
  protective: z.string(),
  specimens: Count,
  corroded: Count,
  steps: z.array(Span.extend({ probability: z.number(), survivingShare: z.number() })),
});
export type ExposureGroup = z.output<typeof ExposureGroup>;

/** What a test says: as it stands while it runs, and for ever once it has ended. */
export const ExposureResult = z.object({
  exposedHours: z.number(),
  missedLooks: Count,
  readingsOutside: Count,
  interruptedHours: z.number(),
  groups: z.array(ExposureGroup),
});
export type ExposureResult = z.output<typeof ExposureResult>;

const Head = z.object({
  id: Id,
  number: z.string(),
  name: z.string(),
  kind: ExposureKind,
  medium: z.string(),
  standard: z.string(),
  state: ExposureState,
  responsible: z.object({ id: Id, name: z.string() }),
  plannedStart: Day.nullable(),
  plannedHours: z.number(),
  startedAt: Instant.nullable(),
  endedAt: Instant.nullable(),
  /** Until now, or until its end; null before it starts. */
  exposedHours: z.number().nullable(),
  missedLooks: Count,
  dueLooks: Count,
  readingsOutside: Count,
});
/** A test on a list. */
export const ExposureTestItem = Head.extend({ specimens: Count, materials: z.array(z.string()) }).meta({
  id: 'ExposureTestItem',
});
export type ExposureTestItem = z.output<typeof ExposureTestItem>;

export const ExposureTest = Head.extend({
  concentrationGPerL: z.number().nullable(),
  temperatureC: z.number().nullable(),
  place: z.string(),
  lookEveryDays: z.int(),
  limits: ExposureLimits,
  note: z.string(),
  createdBy: z.string(),
  createdAt: Instant,
  startedBy: z.string().nullable(),
  startDay: Day.nullable(),
  endedBy: z.string().nullable(),
  endDay: Day.nullable(),
  verdict: z.string(),
  withdrawReason: z.string(),
  /** The version of the calculation that made the result; null until it is frozen. */
  calcVersion: z.string().nullable(),
  result: ExposureResult,
  specimens: z.array(ExposureSpecimen),
  readings: z.array(ExposureReading),
  interruptions: z.array(ExposureInterruption),
  /** Days on which a look is or was due, and whether the specimens were out of exposure all that day. */
  lookDays: z.array(z.object({ day: Day, interrupted: z.boolean() })),
  version: Version,
}).meta({ id: 'ExposureTest' });
export type ExposureTest = z.output<typeof ExposureTest>;

const filters = {
  search: listQuery.search,
  state: ExposureState.optional(),
  kind: ExposureKind.optional(),
  /** Of any specimen. */
  materialId: PathId.optional(),
  recipeId: PathId.optional(),
  couponSeriesId: PathId.optional(),
};

export const listExposureTests = defineQuery({
  name: 'listExposureTests',
  tags: ['colour'],
  path: '/exposure-tests',
  access: 'lab.read',
  summary: 'Immersion, exposure, salt spray and humidity tests, newest first',
  query: { limit: listQuery.limit, after: listQuery.after, ...filters },
  reply: page(ExposureTestItem),
});
export const exportExposureTests = defineQuery({
  name: 'exportExposureTests',
  tags: ['colour'],
  path: '/exposure-tests.csv',
  access: 'lab.read',
  summary: 'The list of exposure tests as CSV',
  query: filters,
  reply: Csv,
});
export const getExposureTest = defineQuery({
  name: 'getExposureTest',
  tags: ['colour'],
  path: '/exposure-tests/:id',
  access: 'lab.read',
  summary: 'One test with its specimens, what was seen of them, and its chamber',
  params: { id: PathId },
  reply: ExposureTest,
});
export const exportExposureObservations = defineQuery({
  name: 'exportExposureObservations',
  tags: ['colour'],
  path: '/exposure-tests/:id/observations.csv',
  access: 'lab.read',
  summary: 'Every observation of a test as CSV, and every look that was missed',
  params: { id: PathId },
  reply: Csv,
});
export const getExposureSheet = defineQuery({
  name: 'getExposureSheet',
  tags: ['colour'],
  path: '/exposure-sheet',
  access: 'coupons.write',
  summary: 'Who may answer for a test, and where specimens may come from',
  reply: z.object({
    people: z.array(z.object({ id: Id, name: z.string() })),
    materials: z.array(Material),
    recipes: z.array(z.object({ revisionId: Id, number: z.string(), name: z.string(), revision: z.int() })),
    couponSeries: z.array(z.object({ id: Id, code: z.string(), revision: z.int(), name: z.string() })),
  }),
});
export const createExposureTest = defineCommand({
  name: 'createExposureTest',
  tags: ['colour'],
  path: '/exposure-tests',
  access: 'coupons.write',
  summary: 'Plan a test with its specimens',
  body: NewExposureTest,
  reply: ExposureTest,
  status: 201,
});
export const updateExposureTest = defineCommand({
  name: 'updateExposureTest',
  tags: ['colour'],
  method: 'PUT',
  path: '/exposure-tests/:id',
  access: 'coupons.write',
  summary: 'Change a test that has not started',
  params: { id: PathId },
  body: NewExposureTest,
  reply: ExposureTest,
  versioned: true,
});
export const startExposureTest = defineCommand({
  name: 'startExposureTest',
  tags: ['colour'],
  path: '/exposure-tests/:id/start',
  access: 'coupons.write',
  summary: 'Say when the specimens went in: from then on the plan stands',
  params: { id: PathId },
  body: z.strictObject({ startedAt: Instant }),
  reply: ExposureTest,
  versioned: true,
});
export const withdrawExposureTest = defineCommand({
  name: 'withdrawExposureTest',
  tags: ['colour'],
  path: '/exposure-tests/:id/withdraw',
  access: 'coupons.write',
  summary: 'Withdraw a test that has not started',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: ExposureTest,
});
export const endExposureTest = defineCommand({
  name: 'endExposureTest',
  tags: ['colour'],
  path: '/exposure-tests/:id/end',
  access: 'coupons.write',
  summary: 'End a test with a verdict in words; its result is frozen',
  params: { id: PathId },
  body: z.strictObject({ endedAt: Instant, verdict: Line(2000) }),
  reply: ExposureTest,
});
