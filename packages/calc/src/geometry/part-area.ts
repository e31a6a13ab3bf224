import { checkNumber, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import { measureShape } from './shape-area.ts';
import type { Shape } from './shapes/index.ts';
import { type Cut, type Measured, disc, unreachedShare } from './shapes/shape.ts';

export interface Feature {
  shape: Shape;
  /** How many of it; 1 when left out. */
  count?: number | undefined;
  /** Cut out of the rest: its wall is added, its openings taken off, its volume subtracted. */
  subtract?: boolean | undefined;
  /** How many ends of the cut break the surface: all of them (a through-hole) when left out, 1 for a blind hole. */
  openings?: number | undefined;
}

/** A patch where two features meet; it is taken off both. */
export type Joint = { count?: number | undefined } & (
  { areaMm2: number } | { diameterMm: number } | { lengthMm: number; widthMm: number }
);

export interface FeatureArea {
  /** Of all of the feature's count together; what a cut adds may be negative. */
  areaMm2: number;
  electricalAreaMm2: number;
  volumeMm3: number;
}

export interface PartArea {
  /** Wetted, roughness included: what baths, drag-out and rinse see. Masks are wetted too. */
  areaMm2: number;
  /** What draws current: without masks, contacts and the depth of bores. */
  electricalAreaMm2: number;
  /** Where the film grows, and what thickness rules use: without masks and contacts. */
  coatedAreaMm2: number;
  maskedAreaMm2: number;
  contactAreaMm2: number;
  volumeMm3: number;
  /** Null without a density. */
  massKg: number | null;
  /** In the order given, before roughness. */
  features: FeatureArea[];
  /** What the joints take off, before roughness. */
  jointsMm2: number;
}

/**
 * Areas, volume and mass of a part built from shapes.
 *
 * Features add up; where two join, the patch is taken off both (`joints`). A feature with `subtract` is cut out: the wall
 * it leaves is wetted and counts, each opening takes its patch off, and its volume goes. `maskedMm2` and `contactMm2` are
 * measured on the part, before roughness; `roughnessFactor` (1 or more, from coupons) multiplies all areas but those two.
 * Masks are taken to lie where current would reach.
 *
 * Units: mm, mm2, mm3, kg, kg/m3. Source: solid geometry; reach of current into bores is common practice, no source.
 * Errors: those of {@link shapeArea} with the place in the name (`features[1].shape.diameterMm`); `impossible` when more
 * is taken off than there is, or a shape without flat ends is cut out.
 *
 * @example
 * partArea({
 *   features: [
 *     { shape: { kind: 'plate', lengthMm: 100, widthMm: 50, thicknessMm: 5 } },
 *     { shape: { kind: 'bar', diameterMm: 8, lengthMm: 5 }, count: 6, subtract: true },
 *   ],
 *   maskedMm2: 650.7964,
 *   densityKgPerM3: 4510,
 * })
 * // { areaMm2: 11650.7964, coatedAreaMm2: 11000, volumeMm3: 23492.0355, massKg: 0.105949 }
 */
export function partArea(input: {
  features: readonly Feature[];
  joints?: readonly Joint[] | undefined;
  maskedMm2?: number | undefined;
  contactMm2?: number | undefined;
  roughnessFactor?: number | undefined;
  densityKgPerM3?: number | undefined;
}): PartArea {
  if (!Array.isArray(input.features) || input.features.length === 0) {
    throw new CalcError({
      code: 'malformed',
      argument: 'features',
      given: input.features,
      allowed: 'at least one feature',
    });
  }
  const features = input.features.map(featureArea);
  const jointsMm2 = sum((input.joints ?? []).map(jointArea));
  const maskedAreaMm2 = checkNumber('maskedMm2', input.maskedMm2 ?? 0, { min: 0 });
  const contactAreaMm2 = checkNumber('contactMm2', input.contactMm2 ?? 0, { min: 0 });
  const roughness = checkNumber('roughnessFactor', input.roughnessFactor ?? 1, { min: 1, max: 100 });

  const smoothMm2 = sum(features.map(({ areaMm2 }) => areaMm2)) - jointsMm2;
  const reachedMm2 = sum(features.map(({ electricalAreaMm2 }) => electricalAreaMm2)) - jointsMm2;
  const volumeMm3 = sum(features.map((feature) => feature.volumeMm3));
  const bareMm2 = smoothMm2 - maskedAreaMm2 - contactAreaMm2;
  atLeastNothing('joints', smoothMm2, 'no more joints and openings than there is area');
  atLeastNothing('features', volumeMm3, 'no more cut out than there is volume');
  atLeastNothing('maskedMm2', bareMm2, 'masked and contact area within the area of the part');

  return {
    areaMm2: smoothMm2 * roughness,
    electricalAreaMm2: Math.max(0, reachedMm2 - maskedAreaMm2 - contactAreaMm2) * roughness,
    coatedAreaMm2: bareMm2 * roughness,
    maskedAreaMm2,
    contactAreaMm2,
    volumeMm3,
    massKg:
      input.densityKgPerM3 === undefined
        ? null
        : volumeMm3 * 1e-9 * checkNumber('densityKgPerM3', input.densityKgPerM3, { above: 0, max: 25_000 }),
    features,
    jointsMm2,
  };
}

function featureArea({ shape, count = 1, subtract = false, openings }: Feature, i: number): FeatureArea {
  const path = `features[${i}]`;
  const pieces = checkWhole(`${path}.count`, count, { min: 1, max: 1_000_000 });
  const measured = measureShape(shape, `${path}.shape.`);
  const one = subtract
    ? cutArea({ measured, openings, path, kind: shape.kind })
    : {
        areaMm2: measured.areaMm2,
        electricalAreaMm2: measured.areaMm2 - (measured.unreachedMm2 ?? 0),
        volumeMm3: measured.volumeMm3,
      };
  return {
    areaMm2: pieces * one.areaMm2,
    electricalAreaMm2: pieces * one.electricalAreaMm2,
    volumeMm3: pieces * one.volumeMm3,
  };
}

interface CutRequest {
  measured: Measured;
  openings: number | undefined;
  path: string;
  kind: string;
}

function cutArea({ measured, openings, path, kind }: CutRequest): FeatureArea {
  const cut: Cut | undefined = measured.cut;
  if (!cut) {
    const allowed =
      'a shape with flat ends to cut with: bar, hexBar, extrusion, cone, frustum, capClosed, tappedHole';
    throw new CalcError({ code: 'impossible', argument: `${path}.subtract`, given: kind, allowed });
  }
  const { wallMm2, endsMm2 } = cut;
  const open = checkWhole(`${path}.openings`, openings ?? endsMm2.length, { min: 1, max: endsMm2.length });
  const unreached = unreachedShare({ ...cut, openings: open });
  const floorMm2 = sum(endsMm2.slice(open));
  const openMm2 = sum(endsMm2.slice(0, open));
  return {
    areaMm2: wallMm2 + floorMm2 - openMm2,
    electricalAreaMm2: wallMm2 * (1 - unreached) + (unreached > 0 ? 0 : floorMm2) - openMm2,
    volumeMm3: -measured.volumeMm3,
  };
}

function jointArea(joint: Joint, i: number): number {
  const check = (key: string, value: number) => checkNumber(`joints[${i}].${key}`, value, { above: 0 });
  const count = checkWhole(`joints[${i}].count`, joint.count ?? 1, { min: 1, max: 1_000_000 });
  if ('diameterMm' in joint) return 2 * count * disc(check('diameterMm', joint.diameterMm));
  if ('lengthMm' in joint)
    return 2 * count * check('lengthMm', joint.lengthMm) * check('widthMm', joint.widthMm);
  return 2 * count * check('areaMm2', joint.areaMm2);
}

function atLeastNothing(argument: string, value: number, allowed: string): void {
  if (value < 0) throw new CalcError({ code: 'impossible', argument, given: `${value} left`, allowed });
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
