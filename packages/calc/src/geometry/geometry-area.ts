import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type Feature, type Joint, partArea } from './part-area.ts';

/** What is taken off or put on whichever way the surface was found. */
interface Coverage {
  maskedMm2: number;
  contactMm2: number;
  /** True over drawn area, 1 or more, from coupons. */
  roughnessFactor: number;
}

/** The three ways the geometry of a part is known. */
export type PartGeometry = Coverage &
  (
    | { kind: 'typed'; areaMm2: number; electricalAreaMm2: number | null; volumeMm3: number | null }
    | { kind: 'shapes'; features: readonly Feature[]; joints: readonly Joint[] }
    | { kind: 'mesh'; areaMm2: number; shadowedMm2: number; volumeMm3: number | null }
  );

export interface GeometryArea {
  /** Wetted, roughness included. */
  areaMm2: number;
  /** What draws current: without masks, contacts and what current does not reach. */
  electricalAreaMm2: number;
  /** Where the film grows: without masks and contacts. */
  coatedAreaMm2: number;
  /** Null where it is not known. */
  volumeMm3: number | null;
  /** Null without a density or a volume. */
  massKg: number | null;
}

/**
 * Areas, volume and mass of a part, whichever way its surface is known: a typed figure, shapes (by {@link partArea}), or
 * a measured mesh in millimetres. The rules are one: masks and contacts come off what is coated and what draws current,
 * and the roughness factor multiplies what is left.
 *
 * Units: mm2, mm3, kg, kg/m3. Errors: `not-finite` and `out-of-range` by the name of the figure, `impossible` when more
 * is masked, shadowed or in contact than there is; those of {@link partArea} for shapes.
 *
 * @example
 * const mesh = { kind: 'mesh' as const, areaMm2: 1700, shadowedMm2: 200, volumeMm3: 3000 };
 * geometryArea({ ...mesh, maskedMm2: 100, contactMm2: 0, roughnessFactor: 1.5 }, { densityKgPerM3: 4510 })
 * // { areaMm2: 2550, electricalAreaMm2: 2100, coatedAreaMm2: 2400, volumeMm3: 3000, massKg: 0.01353 }
 */
export function geometryArea(
  geometry: PartGeometry,
  { densityKgPerM3 }: { densityKgPerM3?: number } = {},
): GeometryArea {
  if (geometry.kind === 'shapes') {
    const { areaMm2, electricalAreaMm2, coatedAreaMm2, volumeMm3, massKg } = partArea({
      ...geometry,
      densityKgPerM3,
    });
    return { areaMm2, electricalAreaMm2, coatedAreaMm2, volumeMm3, massKg };
  }
  const areaMm2 = checkNumber('areaMm2', geometry.areaMm2, { above: 0 });
  const reachedMm2 = reached(geometry);
  const maskedMm2 = checkNumber('maskedMm2', geometry.maskedMm2, { min: 0 });
  const contactMm2 = checkNumber('contactMm2', geometry.contactMm2, { min: 0 });
  const roughness = checkNumber('roughnessFactor', geometry.roughnessFactor, { min: 1, max: 100 });
  const bareMm2 = areaMm2 - maskedMm2 - contactMm2;
  if (bareMm2 < 0) {
    const allowed = `with the contacts at most ${areaMm2} mm², the area of the part`;
    throw new CalcError({ code: 'impossible', argument: 'maskedMm2', given: maskedMm2, allowed });
  }
  const volumeMm3 =
    geometry.volumeMm3 === null ? null : checkNumber('volumeMm3', geometry.volumeMm3, { above: 0 });
  return {
    areaMm2: areaMm2 * roughness,
    electricalAreaMm2: Math.max(0, reachedMm2 - maskedMm2 - contactMm2) * roughness,
    coatedAreaMm2: bareMm2 * roughness,
    volumeMm3,
    massKg:
      densityKgPerM3 === undefined || volumeMm3 === null
        ? null
        : volumeMm3 * 1e-9 * checkNumber('densityKgPerM3', densityKgPerM3, { above: 0, max: 25_000 }),
  };
}

/** The area that current reaches, before masks and contacts. */
function reached(geometry: Exclude<PartGeometry, { kind: 'shapes' }>): number {
  if (geometry.kind === 'mesh') {
    return (
      geometry.areaMm2 - checkNumber('shadowedMm2', geometry.shadowedMm2, { min: 0, max: geometry.areaMm2 })
    );
  }
  return geometry.electricalAreaMm2 === null
    ? geometry.areaMm2
    : checkNumber('electricalAreaMm2', geometry.electricalAreaMm2, { min: 0, max: geometry.areaMm2 });
}
