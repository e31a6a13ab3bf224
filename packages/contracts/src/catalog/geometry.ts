import { z } from 'zod';
import { inMillimetres, LengthUnit, type FileMeasure } from './measurements.ts';
import { Id, Line, Positive, Quantity, Text } from '../kernel/scalars.ts';

/** The largest area a part may have: 100 m². */
const Area = Quantity(1e8);
const Length = Positive(20_000);

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
  /** Source of the figure: the drawing, the customer, a model. */
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
