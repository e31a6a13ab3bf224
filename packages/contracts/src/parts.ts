import { z } from 'zod';
import { CustomerRef } from './customers.ts';
import { StoredFile } from './files.ts';
import { NoBody, reading, writing } from './http.ts';
import { MaterialRef } from './materials.ts';
import {
  Archived,
  Count,
  Csv,
  Id,
  Instant,
  Lab,
  Line,
  PathId,
  Positive,
  Quantity,
  Text,
  Version,
  listQuery,
  page,
} from './scalars.ts';

/** The largest area a part may have: 100 m². */
const Area = Quantity(1e8);
const Length = Positive(20_000);

/** What an STL may be drawn in; it does not say. */
export const LengthUnit = z.enum(['mm', 'cm', 'm', 'inch', 'ft']);
export type LengthUnit = z.output<typeof LengthUnit>;
/** Millimetres in each, exactly. */
export const mmPer = { mm: 1, cm: 10, m: 1000, inch: 25.4, ft: 304.8 } as const satisfies Record<
  LengthUnit,
  number
>;

// Measurements of model files

/**
 * What was found in a model file. Lengths are in the unit of the file: millimetres for STEP, which says so; whatever it
 * was drawn in for STL, which does not.
 */
export const FileMeasure = z.object({
  area: z.number(),
  /** Null where the mesh is open: its volume would depend on where the origin lies. */
  volume: z.number().nullable(),
  /** Extents along x, y and z. */
  size: z.object({ x: z.number(), y: z.number(), z: z.number() }),
  facets: z.int().min(0),
  /** Facets without area, left out. */
  skipped: z.int().min(0),
  /** Pieces that touch nowhere. */
  bodies: z.int().min(0),
  closed: z.boolean(),
  openEdges: z.int().min(0),
  insideOut: z.boolean(),
  /** In words: what the person should know before relying on the area. */
  warnings: z.array(z.string()),
});
export type FileMeasure = z.output<typeof FileMeasure>;

/**
 * A measure in millimetres, once it is known what one unit of the file is.
 *
 * @example
 * inMillimetres(result, 'inch').areaMm2
 */
export function inMillimetres(measure: FileMeasure, unit: LengthUnit) {
  const mm = mmPer[unit];
  const { x, y, z: depth } = measure.size;
  return {
    areaMm2: measure.area * mm ** 2,
    volumeMm3: measure.volume === null ? null : measure.volume * mm ** 3,
    sizeMm: { x: x * mm, y: y * mm, z: depth * mm },
  };
}

export const Measurement = z
  .object({
    id: Id,
    file: StoredFile,
    /** The unit the file states; null asks the person. */
    statedUnit: LengthUnit.nullable(),
    status: z.enum(['waiting', 'running', 'done', 'failed', 'cancelled']),
    /** From 0 to 1. */
    progress: z.number(),
    result: FileMeasure.nullable(),
    /** Why it failed, in words. */
    fault: z.string().nullable(),
    createdBy: z.string(),
    createdAt: Instant,
  })
  .meta({ id: 'Measurement' });
export type Measurement = z.output<typeof Measurement>;

export const measureFile = writing({
  path: '/measurements',
  access: 'parts.write',
  summary: 'Measure an STL or STEP file beside the requests; ask for the record to see how far it is',
  body: z.strictObject({ fileId: Id }),
  reply: Measurement,
  status: 202,
});
export const getMeasurement = reading({
  path: '/measurements/:id',
  access: 'parts.read',
  summary: 'A measurement: how far it is, what was found, or why it failed',
  params: { id: PathId },
  reply: Measurement,
});
export const cancelMeasurement = writing({
  path: '/measurements/:id/cancel',
  access: 'parts.write',
  summary: 'Stop a measurement that is waiting or running',
  params: { id: PathId },
  body: NoBody,
  reply: Measurement,
});
/** Little endian: vertex count and triangle count as uint32, then x y z as float32, then three uint32 a triangle. */
export const getMeasurementPreview = reading({
  path: '/measurements/:id/preview',
  access: 'parts.read',
  summary: 'A coarse mesh of the model to look at, binary',
  params: { id: PathId },
  reply: z
    .any()
    .meta({ description: 'uint32 vertices, uint32 triangles, float32 xyz each, uint32 corners each' }),
});

// Geometry

/**
 * A shape by its kind with its dimensions, in mm (mm² for areas). Which there are is the table of shapes in the
 * calculation package; it refuses whatever is not a shape.
 */
export interface Shape {
  kind: string;
  [dimension: string]: string | number;
}
export const Shape: z.ZodType<Shape> = z.object({ kind: Line(40) }).catchall(Quantity(1e8));

export const Feature = z.strictObject({
  label: Text(120),
  shape: Shape,
  count: z.int().min(1).max(10_000),
  /** Cut out of the rest instead of added. */
  subtract: z.boolean(),
  /** How many ends of a cut break the surface: 1 for a blind hole; null for as many as it has. */
  openings: z.int().min(1).max(2).nullable(),
});
export type Feature = z.output<typeof Feature>;

const joint = { label: Text(120), count: z.int().min(1).max(10_000) };
/** A patch where two features meet; it is hidden on both. */
export const Joint = z.discriminatedUnion('patch', [
  z.strictObject({ ...joint, patch: z.literal('disc'), diameterMm: Length }),
  z.strictObject({ ...joint, patch: z.literal('rectangle'), lengthMm: Length, widthMm: Length }),
  z.strictObject({ ...joint, patch: z.literal('area'), areaMm2: Positive(1e8) }),
]);
export type Joint = z.output<typeof Joint>;

const coverage = {
  /** Area that is masked: not wetted by current, not coated. */
  maskedMm2: Area,
  /** Area under contacts and hooks. */
  contactMm2: Area,
  /** True area over drawn area, from coupons: 1 for a smooth surface. */
  roughnessFactor: z.number().min(1).max(20),
};

export const TypedGeometry = z.strictObject({
  kind: z.literal('typed'),
  areaMm2: Positive(1e8),
  /** Where current does not reach all of the area; null takes the whole. */
  electricalAreaMm2: Area.nullable(),
  volumeMm3: Positive(1e12).nullable(),
  /** Where the figure comes from: the drawing, the customer, a model. */
  origin: Line(200),
  ...coverage,
});
export const ShapesGeometry = z.strictObject({
  kind: z.literal('shapes'),
  features: z.array(Feature).min(1, 'needs at least one shape').max(60),
  joints: z.array(Joint).max(60),
  ...coverage,
});
export const MeshGeometry = z.strictObject({
  kind: z.literal('mesh'),
  measurementId: Id,
  /** What one unit of the file is. */
  unit: LengthUnit,
  /** Area in deep bores that current hardly reaches. */
  shadowedMm2: Area,
  ...coverage,
});
export const Geometry = z.discriminatedUnion('kind', [TypedGeometry, ShapesGeometry, MeshGeometry]);
export type Geometry = z.output<typeof Geometry>;

/**
 * A geometry as the calculation takes it: a mesh with the figures of its file in millimetres, null while there are none.
 * Server and browser compute from the same.
 *
 * @example
 * const input = calculable(part.geometry, measurement.result);
 */
export function calculable(geometry: Geometry, measure: FileMeasure | null) {
  switch (geometry.kind) {
    case 'typed':
      return geometry;
    case 'shapes': {
      const features = geometry.features.map(({ openings, ...feature }) => ({
        ...feature,
        openings: openings ?? undefined,
      }));
      return { ...geometry, features };
    }
    case 'mesh':
      return measure === null ? null : { ...geometry, ...inMillimetres(measure, geometry.unit) };
  }
}

// Colour

export const Colour = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('none') }),
  /** An agreed sample, and where it is kept. */
  z.strictObject({ kind: z.literal('sample'), sample: Line(300) }),
  /** CIELAB under D65, 2 degree observer, with the largest CIEDE2000 difference that still passes. */
  z.strictObject({ kind: z.literal('lab'), lab: Lab, toleranceDeltaE: z.number().min(0.1).max(50) }),
]);
export type Colour = z.output<typeof Colour>;

// Parts

export const PartFileKind = z.enum(['drawing', 'photo', 'model', 'other']);
export const PartFile = z.object({ kind: PartFileKind, caption: z.string(), file: StoredFile });
export type PartFile = z.output<typeof PartFile>;

/** How other records name a part. */
export const PartRef = z.object({
  id: Id,
  number: z.string(),
  revision: z.string(),
  description: z.string(),
});
export type PartRef = z.output<typeof PartRef>;

const RevisionRef = z.object({ id: Id, revision: z.string() });

export const Part = z
  .object({
    id: Id,
    customer: CustomerRef,
    number: z.string(),
    revision: z.string(),
    description: z.string(),
    material: MaterialRef,
    conditionReceived: z.string(),
    /** The box it needs on a rack as it hangs. */
    widthMm: z.number().nullable(),
    heightMm: z.number().nullable(),
    depthMm: z.number().nullable(),
    massKg: z.number().nullable(),
    massMethod: z.enum(['typed', 'volume']),
    geometry: Geometry,
    /** All surface that the liquid reaches, roughness included. */
    areaMm2: z.number(),
    /** What draws current: sizes the load. */
    electricalAreaMm2: z.number(),
    /** What is coated and has to look right. */
    coatedAreaMm2: z.number(),
    maskedAreaMm2: z.number(),
    contactAreaMm2: z.number(),
    roughnessFactor: z.number(),
    volumeMm3: z.number().nullable(),
    /** How the area was found, in words. */
    areaMethod: z.string(),
    areaFoundBy: z.string(),
    areaFoundAt: Instant,
    colour: Colour,
    specification: z.string(),
    specificationRevision: z.string(),
    significantSurfaces: z.string(),
    contactMarks: z.string(),
    maskingNotes: z.string(),
    maskingFeatures: Count,
    dimensionAllowance: z.string(),
    handling: z.string(),
    notes: z.string(),
    files: z.array(PartFile),
    predecessor: RevisionRef.nullable(),
    successor: RevisionRef.nullable(),
    archivedAt: Instant.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Part' });
export type Part = z.output<typeof Part>;

export const PartItem = z.object({
  id: Id,
  customer: CustomerRef,
  number: z.string(),
  revision: z.string(),
  description: z.string(),
  materialId: Id,
  materialName: z.string(),
  baseMetal: z.string(),
  areaMm2: z.number(),
  massKg: z.number().nullable(),
  geometryKind: z.enum(['typed', 'shapes', 'mesh']),
  colour: Colour,
  superseded: z.boolean(),
  archived: z.boolean(),
  createdAt: Instant,
});
export type PartItem = z.output<typeof PartItem>;

/** What is typed about a part in one revision. */
export const PartFacts = z.strictObject({
  /** The customer's number; the same in every revision of the part. */
  number: Line(80),
  revision: Line(40),
  description: Text(300),
  materialId: Id,
  conditionReceived: Text(300),
  widthMm: Length.nullable(),
  heightMm: Length.nullable(),
  depthMm: Length.nullable(),
  /** Null with `massMethod: 'volume'` takes volume times density. */
  massKg: Positive(10_000).nullable(),
  massMethod: z.enum(['typed', 'volume']),
  geometry: Geometry,
  colour: Colour,
  specification: Text(200),
  specificationRevision: Text(60),
  significantSurfaces: Text(2000),
  contactMarks: Text(2000),
  maskingNotes: Text(2000),
  maskingFeatures: z.int().min(0).max(1000),
  dimensionAllowance: Text(500),
  handling: Text(2000),
  notes: Text(),
  /** The files of the part, all of them, in the order shown. */
  files: z
    .array(z.strictObject({ fileId: Id, kind: PartFileKind, caption: Text(200) }))
    .max(40)
    .refine(
      (files) => new Set(files.map(({ fileId }) => fileId)).size === files.length,
      'names a file twice',
    ),
});
export type PartFacts = z.output<typeof PartFacts>;

const NewPart = z.strictObject({ customerId: Id, ...PartFacts.shape });
export type NewPart = z.output<typeof NewPart>;

const filters = {
  search: listQuery.search,
  customerId: PathId.optional(),
  materialId: PathId.optional(),
  archived: Archived.optional(),
  /** Superseded revisions are left out unless asked for. */
  revisions: z.enum(['current', 'all']).optional(),
  sort: z
    .enum(['number', '-number', 'customer', '-customer', 'area', '-area', 'createdAt', '-createdAt'])
    .optional(),
};

export const listParts = reading({
  path: '/parts',
  access: 'parts.read',
  summary: 'Parts, searched by number, description or customer',
  query: { ...listQuery, ...filters },
  reply: page(PartItem),
});
export const exportParts = reading({
  path: '/parts.csv',
  access: 'parts.read',
  summary: 'The list of parts as CSV',
  query: filters,
  reply: Csv,
});
export const getPart = reading({
  path: '/parts/:id',
  access: 'parts.read',
  summary: 'One part in one revision',
  params: { id: PathId },
  reply: Part,
});
export const createPart = writing({
  path: '/parts',
  access: 'parts.write',
  summary: 'Add a part of a customer',
  body: NewPart,
  reply: Part,
  status: 201,
});
export const updatePart = writing({
  method: 'PUT',
  path: '/parts/:id',
  access: 'parts.write',
  summary: 'Change a part; a superseded revision is not changed any more',
  params: { id: PathId },
  body: PartFacts,
  reply: Part,
  versioned: true,
});
export const revisePart = writing({
  path: '/parts/:id/revisions',
  access: 'parts.write',
  summary: "Add the customer's next revision of a part; the one before points to it",
  params: { id: PathId },
  body: PartFacts,
  reply: Part,
  status: 201,
  versioned: true,
});
export const archivePart = writing({
  path: '/parts/:id/archive',
  access: 'parts.write',
  summary: 'Take a part off the lists; nothing is deleted',
  params: { id: PathId },
  body: NoBody,
  reply: Part,
});
export const unarchivePart = writing({
  path: '/parts/:id/unarchive',
  access: 'parts.write',
  summary: 'Put an archived part back on the lists',
  params: { id: PathId },
  body: NoBody,
  reply: Part,
});

const Use = z.object({ id: Id, number: z.string(), status: z.string(), createdAt: Instant });
/** The newest fifty of each; null where the person may not read that kind of record. */
export const getPartUses = reading({
  path: '/parts/:id/uses',
  access: 'parts.read',
  summary: 'Where a part was quoted, ordered and run',
  params: { id: PathId },
  reply: z.object({
    quotations: z.array(Use).nullable(),
    orders: z.array(Use).nullable(),
    lots: z.array(Use).nullable(),
  }),
});
