import { checkName, checkNumber, checkWhole } from '../check.ts';
import { CalcError, nameInWords } from '../errors.ts';
import { type Shape, SHAPE_KINDS, SHAPES } from './shapes/index.ts';
import type { Measured, ShapeDefinition } from './shapes/shape.ts';

export interface ShapeArea {
  /** Wetted: every face, bores included. */
  areaMm2: number;
  volumeMm3: number;
  /** What current reaches: bores count to a depth of about one diameter from each opening. */
  electricalAreaMm2: number;
}

/**
 * Surface and volume of one shape.
 *
 * `areaMm2` is the wetted area: all faces, holes and insides of tubes too, because chemistry and drag-out reach them.
 * `electricalAreaMm2` leaves out what lies deeper in a bore than about one diameter, where current reaches poorly (common
 * practice, no source). Roughness is not in either: a blasted surface has more true area, see {@link partArea}.
 *
 * Dimensions in mm, each more than zero unless {@link SHAPES} says otherwise; no upper bound.
 * Source: solid geometry; threads by the ISO 68-1 basic profile as rings, 0.04 to 0.11 % under the exact helicoid.
 * Errors: `unknown` for the kind, `not-finite` or `out-of-range` with the name of the dimension, `impossible` for
 * dimensions that contradict each other (a bore wider than its tube).
 *
 * @example
 * shapeArea({ kind: 'plateWithHoles', lengthMm: 100, widthMm: 50, thicknessMm: 5, holeCount: 6, holeDiameterMm: 8 })
 * // { areaMm2: 11650.7964, volumeMm3: 23492.0355, electricalAreaMm2: 11650.7964 }
 */
export function shapeArea(shape: Shape): ShapeArea {
  const { areaMm2, volumeMm3, unreachedMm2 = 0 } = measureShape(shape, '');
  return { areaMm2, volumeMm3, electricalAreaMm2: areaMm2 - unreachedMm2 };
}

/** The same with what a cut needs; `path` stands before the names in errors. */
export function measureShape(shape: Shape, path: string): Measured {
  const kind = checkName(`${path}kind`, (shape as Partial<Shape> | null)?.kind, SHAPE_KINDS);
  const definition = SHAPES[kind];
  const dimensions = checkDimensions(definition, shape, path);
  try {
    return definition.measure(dimensions);
  } catch (error) {
    if (path === '' || !(error instanceof CalcError)) throw error;
    throw new CalcError({ ...error, argument: `${path}${error.argument}` });
  }
}

function checkDimensions(
  { parameters }: ShapeDefinition,
  shape: Shape,
  path: string,
): Record<string, number> {
  const given = shape as unknown as Record<string, unknown>;
  const dimensions: Record<string, number> = {};
  for (const [key, { whole, orZero }] of Object.entries(parameters)) {
    const check = whole ? checkWhole : checkNumber;
    dimensions[key] = check(`${path}${key}`, given[key], orZero ? { min: 0 } : { above: 0 });
  }
  for (const [key, { below }] of Object.entries(parameters)) {
    const value = dimensions[key] ?? NaN;
    const bound = (dimensions[below?.parameter ?? ''] ?? Infinity) * (below?.times ?? 1);
    if (value < bound || (below?.inclusive && value === bound)) continue;
    const limit = `${bound} (${(below?.times ?? 1) === 1 ? '' : `${below?.times} × `}${nameInWords(below?.parameter ?? '')})`;
    const allowed = `${below?.inclusive ? 'at most' : 'less than'} ${limit}`;
    throw new CalcError({ code: 'impossible', argument: `${path}${key}`, given: value, allowed });
  }
  return dimensions;
}
