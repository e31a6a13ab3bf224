import { ciede2000 } from '../../colour/delta-e.ts';
import { checkFinite, checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { type VoltageColours, voltageColours } from './colour-dips.ts';
import { type GrowthFit, rivalBelow } from './fit-film-growth.ts';
import { type FilmGrowth, WRONG_ABOVE_DELTA_E } from './growth.ts';
import { steepnessPerNm, varianceLeft } from './law-variance.ts';
import { uncertaintyV } from './match-colour.ts';

/** Why a coupon is proposed, or none is, with the figures that its words need. */
export type NextCouponWhy =
  /** Orders can be counted in several ways: here their colours differ most, `ratio` times the noise. */
  | {
      code: 'decides-orders';
      separationDeltaE: number;
      noiseDeltaE: number;
      ratio: number;
      alternatives: number;
    }
  /** The orders are decided: this narrows the voltage of the target, or of the law where it is least known, by so much. */
  | {
      code: 'narrows-target' | 'narrows-law';
      aboutVoltageV: number;
      beforeV: number | null;
      afterV: number | null;
    }
  /** Nowhere in the range do the ways to count the orders differ by more than the noise. */
  | { code: 'not-told-apart'; ratio: number; alternatives: number }
  | { code: 'wrong-constants'; residualDeltaE: number };

export interface NextCoupon {
  /** To half a volt; null where no coupon in the range would help. */
  voltageV: number | null;
  why: NextCouponWhy;
}

const STEP_V = 0.5;
/** What colours of coupons that are alike differ by at least (common practice, no source). */
const LEAST_NOISE_DELTA_E = 0.5;
/** What thickness repeats to at one voltage (common practice, no source). */
const THICKNESS_SD_NM = 0.5;

/**
 * The voltage at which one more coupon of the series would say most. While orders can be counted in several ways, it is
 * where the law and its nearest rival differ most in colour, over the noise that is expected there. Once they are decided, it
 * is where a coupon narrows the law most: at the voltage of a target, or where the law is known least.
 *
 * `fit` of the coupons so far; `range` of voltages that may be run, 0 to 1000: nothing is proposed outside.
 * `targetVoltageV` where a colour is sought.
 * Source: T-optimal designs to tell models apart, A. C. Atkinson and V. V. Fedorov, Biometrika 62, 57 and 289 (1975); where
 * there are several rivals the nearest counts; then c- and G-optimality, V. V. Fedorov, Theory of Optimal Experiments
 * (1972) (all from memory). Errors: `impossible` for a range that does not rise; `not-finite`, `out-of-range`.
 *
 * @example
 * const coupons = [20, 40, 60, 80].map((voltageV) => ({
 *   voltageV,
 *   lab: filmColour({ system: 'titanium', thicknessNm: 3 + 2.1 * voltageV + (voltageV === 40 ? 0.5 : 0) }).lab,
 * }));
 * const regime = { alloy: 'Ti grade 2', preparation: 'polished', bath: 'TSP 50 g/L', temperatureC: 22, holdS: 30 };
 * const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
 * nextCoupon({ fit, range: { lowV: 10, highV: 100 } }) // { voltageV: 14, why: { code: 'narrows-law', aboutVoltageV: 20 } }
 */
export function nextCoupon({
  fit,
  range,
  targetVoltageV,
}: {
  fit: GrowthFit;
  range: { lowV: number; highV: number };
  targetVoltageV?: number;
}): NextCoupon {
  checkFinite('fit', fit);
  const voltages = voltagesOf(range);
  if (fit.residualDeltaE > WRONG_ABOVE_DELTA_E)
    return { voltageV: null, why: { code: 'wrong-constants', residualDeltaE: fit.residualDeltaE } };
  const laws = [fit.growth, ...rivalsOf(fit)].map((growth) => voltageColours(growth));
  if (laws.length > 1) return toDecide(laws, { voltages, residualDeltaE: fit.residualDeltaE });
  if (targetVoltageV !== undefined) checkNumber('targetVoltageV', targetVoltageV, { min: 0, max: 1000 });
  return toNarrow(fit, { voltages, targetVoltageV });
}

function voltagesOf({ lowV, highV }: { lowV: number; highV: number }): number[] {
  checkNumber('range.lowV', lowV, { min: 0, max: 1000 });
  checkNumber('range.highV', highV, { min: 0, max: 1000 });
  const first = Math.ceil(lowV / STEP_V);
  const count = Math.floor(highV / STEP_V) - first + 1;
  if (count < 1)
    throw new CalcError({
      code: 'impossible',
      argument: 'range.highV',
      given: highV,
      allowed: `at least half a volt above ${lowV}`,
    });
  return Array.from({ length: count }, (_, index) => (first + index) * STEP_V);
}

/** The laws of the other ways to count the orders that fit as well. */
const rivalsOf = (fit: GrowthFit): FilmGrowth[] =>
  fit.alternatives
    .filter(({ residualDeltaE }) => residualDeltaE < rivalBelow(fit))
    .map(({ offsetNm, slopeNmPerV, curvatureNmPerV2 }) => ({
      ...fit.growth,
      ...{ offsetNm, slopeNmPerV, curvatureNmPerV2, uncertainty: null },
    }));

function toDecide(
  [law, ...rivals]: readonly VoltageColours[],
  { voltages, residualDeltaE }: { voltages: readonly number[]; residualDeltaE: number },
): NextCoupon {
  const told = voltages.map((voltageV) => {
    const lab = law?.labAt(voltageV) ?? { L: 0, a: 0, b: 0 };
    const noiseDeltaE = noiseOf(law, { voltageV, residualDeltaE });
    const separationDeltaE = Math.min(...rivals.map((rival) => ciede2000(lab, rival.labAt(voltageV))));
    return { voltageV, separationDeltaE, noiseDeltaE, ratio: separationDeltaE / noiseDeltaE };
  });
  const best = told.reduce((one, other) => (other.ratio > one.ratio ? other : one));
  const { voltageV, ...figures } = best;
  const alternatives = rivals.length;
  return best.ratio < 1
    ? { voltageV: null, why: { code: 'not-told-apart', ratio: best.ratio, alternatives } }
    : { voltageV, why: { code: 'decides-orders', ...figures, alternatives } };
}

/** Of the reading, and of a thickness that repeats to half a nanometre where colour is steep. */
function noiseOf(
  law: VoltageColours | undefined,
  { voltageV, residualDeltaE }: { voltageV: number; residualDeltaE: number },
): number {
  const perNm = law === undefined ? 0 : steepnessPerNm(law, voltageV);
  return Math.hypot(Math.max(residualDeltaE, LEAST_NOISE_DELTA_E), perNm * THICKNESS_SD_NM);
}

function toNarrow(
  { growth, coupons }: GrowthFit,
  { voltages, targetVoltageV }: { voltages: readonly number[]; targetVoltageV: number | undefined },
): NextCoupon {
  const aboutVoltageV = targetVoltageV ?? leastKnown(growth);
  const beforeV = uncertaintyV(growth, aboutVoltageV);
  const leftAfter = varianceLeft({
    ...{ colours: voltageColours(growth), voltagesV: coupons.map(({ voltageV }) => voltageV), aboutVoltageV },
    terms: growth.curvatureNmPerV2 === 0 ? 2 : 3,
  });
  const best = voltages
    .map((voltageV) => ({ voltageV, left: leftAfter(voltageV) }))
    .reduce((one, other) => (other.left < one.left ? other : one));
  const afterV = beforeV === null ? null : beforeV * Math.sqrt(best.left);
  const code = targetVoltageV === undefined ? 'narrows-law' : 'narrows-target';
  return { voltageV: best.voltageV, why: { code, aboutVoltageV, beforeV, afterV } };
}

/** The end of the coupons at which the law is known least, in volts: a line is surest near its middle. */
function leastKnown(growth: FilmGrowth): number {
  const { lowestVoltageV, highestVoltageV } = growth;
  const half = (voltageV: number) => uncertaintyV(growth, voltageV) ?? 0;
  return half(lowestVoltageV) > half(highestVoltageV) ? lowestVoltageV : highestVoltageV;
}
