import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Csv, Day, Id, Instant, Line, listQuery, page, PathId, Positive, Text } from '../kernel/scalars.ts';

/** What is scanned or exposed: the metal as it is, with its colour, or with its colour and a seal or an oil on it. */
export const ScanFinish = z.enum(['bare', 'coloured', 'coloured-and-sealed', 'coloured-and-oiled']);
export type ScanFinish = z.output<typeof ScanFinish>;

const Point = z.strictObject({
  potentialV: z.number().min(-10).max(10),
  /** Anodic is positive. */
  currentA: z.number().min(-1000).max(1000),
});

const facts = {
  materialId: Id,
  finish: ScanFinish,
  /** What is marked on it. */
  specimen: Line(100),
  /** Of what the film and the oil are; empty for bare metal. */
  film: Text(300),
  /** Scans are compared in one medium: `tap water`, `3.5 % NaCl`. */
  medium: Line(100),
  temperatureC: z.number().min(-20).max(300).nullable(),
  scannedOn: Day,
  /** Wetted. */
  areaMm2: Positive(1e8),
  /** Null where it was not measured: then it is in the result, which says so. */
  solutionResistanceOhm: z.number().min(0).max(1e9).nullable(),
  /** On either side of the corrosion potential. */
  windowV: z.number().min(0.002).max(0.05),
  /** Common practice, no source: 0.026 V active, 0.052 V passive. */
  sternGearyV: z.number().positive().max(0.2),
  /** Grams per mole of electrons. */
  equivalentWeight: z.number().min(1).max(250),
  points: z.array(Point).min(3).max(5000),
  /** Of the file that the points came from; empty where they were pasted. */
  fileName: Text(200),
  note: Text(2000),
};

export const NewPolarizationScan = z.strictObject(facts);
export type NewPolarizationScan = z.output<typeof NewPolarizationScan>;

export const ScanOutcome = z.object({
  polarizationResistanceOhmCm2: z.number(),
  standardErrorOhmCm2: z.number().nullable(),
  measuredOhmCm2: z.number(),
  corrosionPotentialV: z.number(),
  rmsResidualV: z.number(),
  /** Points inside the window. */
  used: z.int(),
  microampPerCm2: z.number(),
  mmPerYear: z.number(),
  /** 95 %, from the scatter of the line alone. */
  intervalMmPerYear: z.object({ low: z.number(), high: z.number() }).nullable(),
  flags: z.array(z.string()),
});
export type ScanOutcome = z.output<typeof ScanOutcome>;

const Head = z.object({
  id: Id,
  number: z.string(),
  material: z.object({ id: Id, name: z.string(), condition: z.string(), baseMetal: BaseMetal }),
  finish: ScanFinish,
  specimen: z.string(),
  film: z.string(),
  medium: z.string(),
  scannedOn: Day,
  result: ScanOutcome,
  enteredBy: z.string(),
  enteredAt: Instant,
  /** The scan that took its place; null while it counts. */
  replacedBy: z.object({ id: Id, number: z.string(), reason: z.string() }).nullable(),
});

/** A scan on a list, without its points. */
export const PolarizationScanItem = Head.meta({ id: 'PolarizationScanItem' });
export type PolarizationScanItem = z.output<typeof PolarizationScanItem>;

export const PolarizationScan = Head.extend({
  temperatureC: z.number().nullable(),
  areaMm2: z.number(),
  solutionResistanceOhm: z.number().nullable(),
  windowV: z.number(),
  sternGearyV: z.number(),
  equivalentWeight: z.number(),
  densityKgPerM3: z.number(),
  points: z.array(z.object({ potentialV: z.number(), currentA: z.number() })),
  fileName: z.string(),
  note: z.string(),
  calcVersion: z.string(),
  replaces: z.object({ id: Id, number: z.string() }).nullable(),
  /** Why it replaces another. */
  reason: z.string(),
}).meta({ id: 'PolarizationScan' });
export type PolarizationScan = z.output<typeof PolarizationScan>;

const filters = { search: listQuery.search, materialId: PathId.optional() };

export const listPolarizationScans = defineQuery({
  name: 'listPolarizationScans',
  tags: ['colour'],
  path: '/polarization-scans',
  access: 'lab.read',
  summary:
    'Scans through the corrosion potential with the rate each gave, newest first; those that were replaced are left out',
  query: { limit: listQuery.limit, after: listQuery.after, ...filters },
  reply: page(PolarizationScanItem),
});
export const exportPolarizationScans = defineQuery({
  name: 'exportPolarizationScans',
  tags: ['colour'],
  path: '/polarization-scans.csv',
  access: 'lab.read',
  summary: 'The list of scans as CSV',
  query: filters,
  reply: Csv,
});
export const getPolarizationScan = defineQuery({
  name: 'getPolarizationScan',
  tags: ['colour'],
  path: '/polarization-scans/:id',
  access: 'lab.read',
  summary: 'One scan with its points',
  params: { id: PathId },
  reply: PolarizationScan,
});
export const createPolarizationScan = defineCommand({
  name: 'createPolarizationScan',
  tags: ['colour'],
  path: '/polarization-scans',
  access: 'coupons.write',
  summary: 'Keep a scan; its rate is reckoned from its points and stands with it',
  body: NewPolarizationScan,
  reply: PolarizationScan,
  status: 201,
});
export const replacePolarizationScan = defineCommand({
  name: 'replacePolarizationScan',
  tags: ['colour'],
  path: '/polarization-scans/:id/replacement',
  access: 'coupons.write',
  summary:
    'Keep a scan in the place of one that was entered wrongly, and why; the old one is shown with it and counts no more',
  params: { id: PathId },
  body: z.strictObject({ ...facts, reason: Line(500) }),
  reply: PolarizationScan,
  status: 201,
});
