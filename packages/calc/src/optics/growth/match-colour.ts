import { checkNumber } from '../../check.ts';
import type { Lab } from '../../colour/colour-types.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { checkLab, labToXyz } from '../../colour/lab.ts';
import { xyzToSrgb } from '../../colour/srgb.ts';
import { CalcError } from '../../errors.ts';
import type { System } from '../resolve-system.ts';
import { colourDips, type Dip, type VoltageColours, voltageColours } from './colour-dips.ts';
import { type Coupon, readCoupons, type ReadCoupon } from './coupon.ts';
import { checkBarrierSystem, type FilmGrowth, growthFlags, thicknessOf } from './growth.ts';
import { halfIntervalNm } from './thickness-from-voltage.ts';

/** Another voltage that the eye cannot tell from a candidate. */
export interface TwinColour {
  voltageV: number;
  order: number;
  /** From the candidate's colour, not from the target. */
  deltaE: number;
}

/** A measured coupon beside a candidate. */
export interface NearCoupon {
  voltageV: number;
  /** From the target. */
  deltaE: number;
}

export interface MatchCandidate {
  voltageV: number;
  thicknessNm: number;
  /** Of the colour: 1 is the thinnest film. */
  order: number;
  lab: Lab;
  inGamut: boolean;
  deltaE: number;
  passes: boolean;
  /** How fast the colour leaves this one, dE00 per volt. */
  steepnessDeltaEPerV: number;
  /** Half the 95 % interval of the voltage from the growth fit, V; null where nothing supports one. */
  uncertaintyV: number | null;
  /** The colour was still coming nearer where the coupons end. */
  atRangeEnd: boolean;
  below: NearCoupon | null;
  above: NearCoupon | null;
  /** Coupons were measured on both sides, no further away than `withinVolts`. */
  bracketed: boolean;
  twins: TwinColour[];
}

export interface ColourMatch {
  /** In the order of voltage. */
  candidates: MatchCandidate[];
  flags: string[];
}

/** A common commercial tolerance, dE00 (common practice, no source). */
const USUAL_TOLERANCE_DELTA_E = 3;
const USUAL_BRACKET_V = 5;

/**
 * The voltages whose film comes nearest to a target colour, one for each order of interference and any other
 * that passes: which order, how near, how steep, which other voltages look the same, and whether measured
 * coupons stand on both sides. Nothing is proposed outside the coupons.
 *
 * `target`: CIELAB (D65, 2 degree, specular included). `growth`: from `fitFilmGrowth`, or `nominalGrowth`
 * (then flagged). `system`, if given, must be the one the growth was fitted with. `coupons` measured so far.
 * `withinVolts`: how near a coupon must be to count as a bracket, 5 V unless given. `toleranceDeltaE`: what
 * passes and what counts as a twin, 3 dE00 unless given.
 * Source: `filmColour` along the growth law; CIEDE2000.
 * Errors: `impossible` when `system` is not that of the growth; `not-finite`, `out-of-range` for target,
 * tolerance or volts.
 *
 * @example
 * const growth = nominalGrowth({ system: 'titanium' });
 * const blue = filmColour({ system: 'titanium', thicknessNm: 50 }).lab;
 * const { candidates } = matchColour({ target: blue, growth, coupons: [] });
 * candidates.filter((candidate) => candidate.passes).map((candidate) => candidate.voltageV) // [21.82]
 */
export function matchColour(input: {
  target: Lab;
  growth: FilmGrowth;
  coupons: readonly Coupon[];
  system?: System;
  withinVolts?: number;
  toleranceDeltaE?: number;
}): ColourMatch {
  const { growth } = input;
  const target = checkLab('target', input.target);
  const withinVolts = checkNumber('withinVolts', input.withinVolts ?? USUAL_BRACKET_V, {
    above: 0,
    max: 1000,
  });
  const toleranceDeltaE = checkTolerance(input.toleranceDeltaE ?? USUAL_TOLERANCE_DELTA_E);
  if (input.system) checkSameSystem(input.system, growth);
  const coupons = readCoupons(input.coupons);
  const colours = voltageColours(growth);

  const candidates = bestOfEachOrder(colours, target, toleranceDeltaE).map((dip): MatchCandidate => {
    const lab = colours.labAt(dip.voltageV);
    const beside = neighbours({ coupons, target, voltageV: dip.voltageV });
    return {
      ...dip,
      thicknessNm: thicknessOf(growth, dip.voltageV),
      order: colours.orderAt(dip.voltageV),
      lab,
      inGamut: xyzToSrgb(labToXyz(lab)).inGamut,
      passes: dip.deltaE <= toleranceDeltaE,
      steepnessDeltaEPerV: steepness(colours, dip.voltageV),
      uncertaintyV: uncertaintyV(growth, dip.voltageV),
      ...beside,
      bracketed: [beside.below, beside.above].every(
        (coupon) => coupon !== null && Math.abs(coupon.voltageV - dip.voltageV) <= withinVolts,
      ),
      twins: twinsOf({ colours, lab, voltageV: dip.voltageV, toleranceDeltaE }),
    };
  });
  const flags = [
    ...growthFlags(growth),
    ...(candidates.some(({ passes }) => passes)
      ? []
      : [
          `no voltage between ${growth.lowestVoltageV} and ${growth.highestVoltageV} V comes within tolerance`,
        ]),
  ];
  return { candidates, flags };
}

/** The nearest voltage of every order, and any other that passes. */
function bestOfEachOrder(colours: VoltageColours, target: Lab, toleranceDeltaE: number): Dip[] {
  const dips = colourDips(colours, target);
  const order = (dip: Dip) => colours.orderAt(dip.voltageV);
  const isBest = (dip: Dip) =>
    dips.every((other) => order(other) !== order(dip) || other.deltaE >= dip.deltaE);
  return dips.filter((dip) => dip.deltaE <= toleranceDeltaE || isBest(dip));
}

export const checkTolerance = (value: number): number =>
  checkNumber('toleranceDeltaE', value, { above: 0, max: 50 });

function checkSameSystem(system: System, growth: FilmGrowth): void {
  const { film, substrate } = checkBarrierSystem(system);
  if (film === growth.system.film && substrate === growth.system.substrate) return;
  throw new CalcError({
    code: 'impossible',
    argument: 'system',
    given: `${film} on ${substrate}`,
    allowed: `${growth.system.film} on ${growth.system.substrate}, the constants the growth was fitted with`,
  });
}

/** Half the interval of thickness, as the voltage that makes it. */
export function uncertaintyV(growth: FilmGrowth, voltageV: number): number | null {
  const half = halfIntervalNm(growth, voltageV);
  return half === null ? null : half / (growth.slopeNmPerV + 2 * growth.curvatureNmPerV2 * voltageV);
}

const STEEPNESS_SPAN_V = 0.2;

function steepness({ labAt, lowV, highV }: VoltageColours, voltageV: number): number {
  const from = Math.max(lowV, voltageV - STEEPNESS_SPAN_V / 2);
  const to = Math.min(highV, voltageV + STEEPNESS_SPAN_V / 2);
  return ciede2000(labAt(from), labAt(to)) / (to - from);
}

function neighbours(options: { coupons: readonly ReadCoupon[]; target: Lab; voltageV: number }) {
  const near = options.coupons.map(({ voltageV, lab }) => ({
    voltageV,
    deltaE: ciede2000(options.target, lab),
  }));
  const nearest = (side: readonly NearCoupon[]) =>
    side.reduce<NearCoupon | null>(
      (best, coupon) =>
        best && Math.abs(best.voltageV - options.voltageV) <= Math.abs(coupon.voltageV - options.voltageV)
          ? best
          : coupon,
      null,
    );
  return {
    below: nearest(near.filter(({ voltageV }) => voltageV <= options.voltageV)),
    above: nearest(near.filter(({ voltageV }) => voltageV >= options.voltageV)),
  };
}

/** Voltages between which and the candidate the colour leaves and comes back. */
function twinsOf({
  colours,
  lab,
  voltageV,
  toleranceDeltaE,
}: {
  colours: VoltageColours;
  lab: Lab;
  voltageV: number;
  toleranceDeltaE: number;
}): TwinColour[] {
  return colourDips(colours, lab)
    .filter((dip) => dip.deltaE <= toleranceDeltaE && Math.abs(dip.voltageV - voltageV) > colours.stepV)
    .map((dip) => ({ voltageV: dip.voltageV, order: colours.orderAt(dip.voltageV), deltaE: dip.deltaE }));
}
