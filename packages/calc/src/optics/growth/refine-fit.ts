import { ciede2000 } from '../../colour/delta-e.ts';
import { type LeastSquares, leastSquares } from '../../numeric/least-squares.ts';
import { goldenSection } from '../../numeric/golden-section.ts';
import {
  isMonotonic,
  type CalibrationSeries,
  type CalibrationPoint,
  thicknessOn,
} from './calibration-series.ts';

/** A growth curve refined among the coupons. */
export interface RefinedFit {
  /** Offset, slope and, where bowed, curvature. */
  coefficients: number[];
  covariance: number[][] | null;
  degreesOfFreedom: number;
  /** dE00 of each coupon from the colour of the curve at its voltage, and their root mean square. */
  deltaE: number[];
  residualDeltaE: number;
  /**
   * Thickness near the curve whose colour is nearest to each coupon's, and the dE00 that even that leaves.
   */
  local: LocalThickness[];
}

interface LocalThickness {
  thicknessNm: number;
  deltaE: number;
  weight: number;
}

/** How far from the curve a coupon may look for its local thickness, nm: well under half an order. */
const REACH_NM = 12;
/**
 * Scatter of thickness that goes with 1 dE00 of colour error, nm. A coupon where colour is steep fixes its
 * thickness no better than thicknesses repeat; without this the steepest colours alone would decide the fit,
 * with intervals far too narrow.
 */
const THICKNESS_PER_DELTA_E = 1;
const MOST_ROUNDS = 30;
const SETTLED_NM = 0.003;

/**
 * From a starting curve to the best one near it: every coupon names the thickness near the curve whose colour
 * it shows, a weighted regression of these on voltage gives the next curve, and so on until the curve rests.
 */
export function refineFit(series: CalibrationSeries, start: readonly number[]): RefinedFit {
  const { points, path } = series;
  let coefficients = [...start];
  let local = points.map((point) => localThickness(series, point, thicknessOn(coefficients, point.voltageV)));
  let last: LeastSquares | null = null;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const solved = regress(points, local, coefficients.length);
    if (!solved || !isMonotonic(solved.coefficients, series.topVoltageV)) break;
    const moved = Math.max(
      ...points.map(({ voltageV }) =>
        Math.abs(thicknessOn(solved.coefficients, voltageV) - thicknessOn(coefficients, voltageV)),
      ),
    );
    last = solved;
    coefficients = solved.coefficients;
    if (moved < SETTLED_NM) break;
    local = points.map((point) => localThickness(series, point, thicknessOn(coefficients, point.voltageV)));
  }

  const deltaE = points.map(({ lab, voltageV }) =>
    ciede2000(lab, path.labAt(thicknessOn(coefficients, voltageV))),
  );
  const degreesOfFreedom = points.length - coefficients.length;
  return {
    coefficients,
    covariance: last && covarianceOf({ points, local, last, degreesOfFreedom }),
    degreesOfFreedom,
    deltaE,
    residualDeltaE: rootMeanSquare(deltaE),
    local,
  };
}

export const rootMeanSquare = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((total, value) => total + value * value, 0) / values.length);

function localThickness(
  { path, thickestNm }: CalibrationSeries,
  point: CalibrationPoint,
  curveNm: number,
): LocalThickness {
  const from = Math.max(0, Math.round(curveNm) - REACH_NM);
  const to = Math.min(thickestNm, Math.round(curveNm) + REACH_NM);
  const reach = point.costs.subarray(from, to + 1);
  const nearest = from + reach.indexOf(Math.min(...reach));
  const costAt = (nm: number) => ciede2000(point.lab, path.labAt(nm)) ** 2;
  const thicknessNm = goldenSection({
    f: costAt,
    low: Math.max(from, nearest - 1),
    high: Math.min(to, nearest + 1),
  });
  const [thinner, thicker] = [Math.max(0, thicknessNm - 0.5), thicknessNm + 0.5];
  const steepness = ciede2000(path.labAt(thinner), path.labAt(thicker)) / (thicker - thinner);
  return {
    thicknessNm,
    deltaE: Math.sqrt(costAt(thicknessNm)),
    weight: weightOf(steepness),
  };
}

/** What a coupon counts in the fit, by how fast its colour changes with thickness, dE00 per nm. */
export const weightOf = (steepness: number): number =>
  1 / (THICKNESS_PER_DELTA_E ** 2 + 1 / Math.max(steepness, 0.01) ** 2);

function regress(points: readonly CalibrationPoint[], local: readonly LocalThickness[], terms: number) {
  const root = local.map(({ weight }) => Math.sqrt(weight));
  const columns = Array.from({ length: terms }, (_, power) =>
    points.map(({ voltageV }, i) => (root[i] ?? NaN) * voltageV ** power),
  );
  return leastSquares(
    columns,
    local.map(({ thicknessNm }, i) => (root[i] ?? NaN) * thicknessNm),
  );
}

/**
 * From the scatter of local thicknesses about the curve, as in any weighted regression; null with no coupon to
 * spare.
 */
function covarianceOf(fit: {
  points: readonly CalibrationPoint[];
  local: readonly LocalThickness[];
  last: LeastSquares;
  degreesOfFreedom: number;
}): number[][] | null {
  const { points, local, last, degreesOfFreedom } = fit;
  if (degreesOfFreedom < 1) return null;
  const scatter = local.reduce((total, { thicknessNm, weight }, i) => {
    const curveNm = thicknessOn(last.coefficients, points[i]?.voltageV ?? NaN);
    return total + weight * (thicknessNm - curveNm) ** 2;
  }, 0);
  return last.inverseNormal().map((row) => row.map((value) => (value * scatter) / degreesOfFreedom));
}
