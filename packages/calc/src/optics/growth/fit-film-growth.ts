import { checkNumber } from '../../check.ts';
import type { Lab } from '../../colour/colour-types.ts';
import { CalcError } from '../../errors.ts';
import { studentQuantile } from '../../numeric/index.ts';
import { checkAngle, checkVoidFraction } from '../check-stack.ts';
import { colourPathOf } from '../colour-path.ts';
import type { FilmModel } from '../film-model.ts';
import { flagsOfMetal } from '../metal-flags.ts';
import { resolveSystem, type System } from '../resolve-system.ts';
import { type Coupon, readCoupons, type ReadCoupon } from './coupon.ts';
import {
  checkBarrierSystem,
  type FilmGrowth,
  type GrowthRegime,
  modelOfGrowth,
  WRONG_ABOVE_DELTA_E,
} from './growth.ts';
import { calibrationSeries, thicknessOn } from './calibration-series.ts';
import { publishedRatio } from './nominal-growth.ts';
import { rootMeanSquare, type RefinedFit } from './refine-fit.ts';
import { solveSeries } from './solve-series.ts';

export type GrowthVerdict = 'good' | 'order uncertain' | 'wrong constants or surface';

export interface FittedCoupon {
  voltageV: number;
  /** On the fitted curve, and the order of the colour there (1 is the thinnest). */
  thicknessNm: number;
  order: number;
  predicted: Lab;
  deltaE: number;
  /**
   * The thickness near the curve whose colour is nearest to the coupon, and the dE00 that remains even there.
   */
  ownThicknessNm: number;
  ownDeltaE: number;
}

export interface GrowthAlternative {
  offsetNm: number;
  slopeNmPerV: number;
  curvatureNmPerV2: number;
  orders: number[];
  residualDeltaE: number;
}

export interface Interval {
  low: number;
  high: number;
}

export interface GrowthFit {
  growth: FilmGrowth;
  /** 95 % intervals; null with no coupon to spare. Curvature null unless it earned its place. */
  intervals: { offsetNm: Interval; slopeNmPerV: Interval; curvatureNmPerV2: Interval | null } | null;
  /** Root mean square dE00 between the coupons and the colours of the curve. */
  residualDeltaE: number;
  /** The same when every coupon may have its local thickness: what no thickness explains. */
  unexplainedDeltaE: number;
  coupons: FittedCoupon[];
  /** Other ways to count the orders, best first. */
  alternatives: GrowthAlternative[];
  verdict: GrowthVerdict;
  flags: string[];
}

const FEWEST_COUPONS = 3;
/** Published ratios are widened by this share either way before a slope is called impossible. */
const SLOPE_MARGIN = 0.3;

/**
 * Fits how film thickness follows voltage to a series of coupons: thickness = offset + slope V (+ curvature
 * V², where it earns its place). All coupons are fitted together and thickness never falls with voltage,
 * which decides the order of each; other ways to count the orders are returned with their residuals.
 *
 * `coupons`: at least 3 different voltages, 0 to 1000 V, each with CIELAB (D65, 2 degree, specular included)
 * or a spectrum, all of one `regime`. `system`: the constants to fit with, titanium, niobium, tantalum,
 * zirconium or sets of them; the result holds only with these, because colour fixes the product of index and
 * thickness, not thickness. `angleDeg` of the instrument, 0 unless given (8 for a sphere); `voidFraction` of
 * a porous film, 0 unless given. `highestThicknessNm`: about how thick the film of the highest coupon is, where it is known from
 * elsewhere, such as a cross-section: only ways to count the orders within half an order of it are looked at. A residual above 3 dE00 gives the verdict "wrong constants or surface": the
 * slope is then no calibration.
 * Source: thin-film colours as in `filmColour`; weighted regression of the thickness each coupon shows,
 * iterated; intervals from the scatter of these about the curve, Student's t.
 * Errors: `malformed` for fewer than 3 voltages, `impossible` for steel or aluminium and for a known thickness that no count of the
 * orders gives, `unknown`, `not-finite`, `out-of-range`.
 *
 * @example
 * const series = [10, 25, 40, 55, 70].map((voltageV) => ({
 *   voltageV,
 *   lab: filmColour({ system: 'titanium', thicknessNm: 3 + 2.1 * voltageV }).lab,
 * }));
 * const regime = { alloy: 'Ti grade 2', preparation: 'polished', bath: 'TSP 50 g/L', temperatureC: 22, holdS: 30 };
 * const { growth, verdict } = fitFilmGrowth({ coupons: series, system: 'titanium', regime });
 * [growth.offsetNm, growth.slopeNmPerV, verdict] // [3.0, 2.1, 'good']
 */
export function fitFilmGrowth(input: {
  coupons: readonly Coupon[];
  system: System;
  regime: GrowthRegime;
  angleDeg?: number;
  voidFraction?: number;
  highestThicknessNm?: number | undefined;
}): GrowthFit {
  const film = {
    system: checkBarrierSystem(input.system),
    angleDeg: checkAngle(input.angleDeg ?? 0),
    voidFraction: checkVoidFraction('voidFraction', input.voidFraction ?? 0),
  };
  const regime = checkRegime(input.regime);
  const coupons = readCoupons(input.coupons).sort((a, b) => a.voltageV - b.voltageV);
  const voltages = new Set(coupons.map(({ voltageV }) => voltageV)).size;
  if (voltages < FEWEST_COUPONS) {
    throw new CalcError({
      code: 'malformed',
      argument: 'coupons',
      given: `${voltages} different voltage${voltages === 1 ? '' : 's'}`,
      allowed: `at least ${FEWEST_COUPONS} different voltages`,
    });
  }
  const model = modelOfGrowth(film);
  const metal = resolveSystem(film.system).substrate.material;
  const published = publishedRatio(metal);
  const series = calibrationSeries({
    coupons,
    path: colourPathOf(model),
    slopeNmPerV: { low: published.low * (1 - SLOPE_MARGIN), high: published.high * (1 + SLOPE_MARGIN) },
  });
  const highestThicknessNm =
    input.highestThicknessNm === undefined
      ? undefined
      : checkNumber('highestThicknessNm', input.highestThicknessNm, { min: 0, max: series.thickestNm });
  const solved = solveSeries(series, model.halfWavesAt, { highestThicknessNm });
  if (solved === null) {
    throw new CalcError({
      code: 'impossible',
      argument: 'highestThicknessNm',
      given: `${highestThicknessNm} nm`,
      allowed: `a thickness at ${series.topVoltageV} V that some way to count the orders gives`,
    });
  }
  const { best, others } = solved;
  const growth = growthOf({ film, regime, coupons, best });
  const unexplainedDeltaE = rootMeanSquare(best.local.map(({ deltaE }) => deltaE));
  const verdict = verdictOn(best, others);
  return {
    growth,
    intervals: intervalsOf(growth, { isBowed: best.coefficients.length > 2 }),
    residualDeltaE: best.residualDeltaE,
    unexplainedDeltaE,
    coupons: coupons.map((coupon, i) => describeCoupon({ coupon, model, best, i })),
    alternatives: others.map((other) => describeAlternative({ other, coupons, model })),
    verdict,
    flags: [
      ...flagsOfMetal(metal),
      ...(verdict === 'wrong constants or surface' && unexplainedDeltaE <= WRONG_ABOVE_DELTA_E
        ? [
            'each coupon has a colour of this film, but not on one curve: mixed regimes or uneven films are as likely',
          ]
        : []),
      ...(growth.slopeNmPerV < published.low || growth.slopeNmPerV > published.high
        ? [`slope outside the published ${published.low} to ${published.high} nm/V`]
        : []),
    ],
  };
}

function verdictOn(best: RefinedFit, others: readonly RefinedFit[]): GrowthVerdict {
  if (best.residualDeltaE > WRONG_ABOVE_DELTA_E) return 'wrong constants or surface';
  return others.some((other) => other.residualDeltaE < rivalBelow(best)) ? 'order uncertain' : 'good';
}

/** Another way to count the orders that leaves less than this fits as well. */
export const rivalBelow = ({ residualDeltaE }: { residualDeltaE: number }): number =>
  Math.max(1.5 * residualDeltaE, residualDeltaE + 0.5);

function growthOf({
  film,
  regime,
  coupons,
  best,
}: {
  film: Pick<FilmGrowth, 'system' | 'angleDeg' | 'voidFraction'>;
  regime: GrowthRegime;
  coupons: readonly ReadCoupon[];
  best: RefinedFit;
}): FilmGrowth {
  const [offsetNm = 0, slopeNmPerV = 0, curvatureNmPerV2 = 0] = best.coefficients;
  const voltages = coupons.map(({ voltageV }) => voltageV);
  return {
    ...film,
    regime,
    offsetNm,
    slopeNmPerV,
    curvatureNmPerV2,
    lowestVoltageV: Math.min(...voltages),
    highestVoltageV: Math.max(...voltages),
    residualDeltaE: best.residualDeltaE,
    uncertainty: best.covariance && { covariance: best.covariance, degreesOfFreedom: best.degreesOfFreedom },
  };
}

function intervalsOf(growth: FilmGrowth, { isBowed }: { isBowed: boolean }): GrowthFit['intervals'] {
  if (!growth.uncertainty) return null;
  const { covariance, degreesOfFreedom } = growth.uncertainty;
  const t = studentQuantile({ probability: 0.975, degreesOfFreedom });
  const around = (value: number, k: number): Interval => {
    const half = t * Math.sqrt(covariance[k]?.[k] ?? NaN);
    return { low: value - half, high: value + half };
  };
  return {
    offsetNm: around(growth.offsetNm, 0),
    slopeNmPerV: around(growth.slopeNmPerV, 1),
    curvatureNmPerV2: isBowed ? around(growth.curvatureNmPerV2, 2) : null,
  };
}

const orderAt = (model: FilmModel, thicknessNm: number): number =>
  Math.floor(model.halfWavesAt(thicknessNm)) + 1;

function describeCoupon({
  coupon,
  model,
  best,
  i,
}: {
  coupon: ReadCoupon;
  model: FilmModel;
  best: RefinedFit;
  i: number;
}): FittedCoupon {
  const thicknessNm = thicknessOn(best.coefficients, coupon.voltageV);
  return {
    voltageV: coupon.voltageV,
    thicknessNm,
    order: orderAt(model, thicknessNm),
    predicted: model.labAt(thicknessNm),
    deltaE: best.deltaE[i] ?? NaN,
    ownThicknessNm: best.local[i]?.thicknessNm ?? NaN,
    ownDeltaE: best.local[i]?.deltaE ?? NaN,
  };
}

function describeAlternative({
  other,
  coupons,
  model,
}: {
  other: RefinedFit;
  coupons: readonly ReadCoupon[];
  model: FilmModel;
}): GrowthAlternative {
  const { coefficients, residualDeltaE } = other;
  const [offsetNm = 0, slopeNmPerV = 0, curvatureNmPerV2 = 0] = coefficients;
  const orders = coupons.map(({ voltageV }) => orderAt(model, thicknessOn(coefficients, voltageV)));
  return { offsetNm, slopeNmPerV, curvatureNmPerV2, orders, residualDeltaE };
}

function checkRegime(regime: GrowthRegime): GrowthRegime {
  checkNumber('regime.temperatureC', regime.temperatureC, { min: -20, max: 200 });
  checkNumber('regime.holdS', regime.holdS, { min: 0 });
  return regime;
}
