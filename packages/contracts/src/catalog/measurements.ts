import { z } from 'zod';
import { StoredFile } from '../core/files.ts';
import { EmptyBody, defineQuery, defineCommand } from '../kernel/http.ts';
import { content, Id, Instant, PathId } from '../kernel/scalars.ts';

/** What an STL may be drawn in; it does not say. */
export const LengthUnit = z.enum(['mm', 'cm', 'm', 'inch', 'ft']);
export type LengthUnit = z.output<typeof LengthUnit>;
/** Millimetres in each, exactly. */
export const mmPer = { mm: 1, cm: 10, m: 1000, inch: 25.4, ft: 304.8 } as const satisfies Record<
  LengthUnit,
  number
>;

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

export const measureFile = defineCommand({
  name: 'measureFile',
  tags: ['catalog'],
  path: '/measurements',
  access: 'parts.write',
  summary: 'Measure an STL or STEP file beside the requests; ask for the record to see how far it is',
  body: z.strictObject({ fileId: Id }),
  reply: Measurement,
  status: 202,
});
export const getMeasurement = defineQuery({
  name: 'getMeasurement',
  tags: ['catalog'],
  path: '/measurements/:id',
  access: 'parts.read',
  summary: 'A measurement: how far it is, what was found, or why it failed',
  params: { id: PathId },
  reply: Measurement,
});
export const cancelMeasurement = defineCommand({
  name: 'cancelMeasurement',
  tags: ['catalog'],
  path: '/measurements/:id/cancel',
  access: 'parts.write',
  summary: 'Stop a measurement that is waiting or running',
  params: { id: PathId },
  body: EmptyBody,
  reply: Measurement,
});
/** Little endian: vertex count and triangle count as uint32, then x y z as float32, then three uint32 a triangle. */
export const getMeasurementPreview = defineQuery({
  name: 'getMeasurementPreview',
  tags: ['catalog'],
  path: '/measurements/:id/preview',
  access: 'parts.read',
  summary: 'A coarse mesh of the model to look at, binary',
  params: { id: PathId },
  reply: content(
    'application/octet-stream',
    'uint32 vertices, uint32 triangles, float32 xyz each, uint32 corners each',
  ),
});
