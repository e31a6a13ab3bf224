import { studentQuantile } from '../../numeric/index.ts';
import { type CalibrationSeries, thicknessOn } from './calibration-series.ts';
import { refineFit, type RefinedFit } from './refine-fit.ts';
import { startingCurves } from './starting-curves.ts';

/** Starting curves refined per shape, and other orders returned. */
const MOST_STARTS = 12;
/** Starts nearer than this at every coupon converge to the same curve, nm. */
const SAME_START_NM = 8;
const MOST_OTHERS = 4;
/** Two curves count the orders differently when some coupon differs by this many half-waves. */
const OTHER_ORDER = 0.3;
/**
 * Curvature earns its place when chance alone would give it in less than 1 of 100 series, and it helps
 * visibly.
 */
const CURVATURE_PROBABILITY = 0.995;
const CURVATURE_GAIN_DELTA_E = 0.1;

/** The best curve through a series and those that count the orders otherwise, best first. */
export function solveSeries(
  series: CalibrationSeries,
  halfWavesAt: (thicknessNm: number) => number,
): { best: RefinedFit; others: RefinedFit[] } {
  const straight = refinedCurves(series, 'straight', halfWavesAt);
  const bowed = series.points.length > 3 ? refinedCurves(series, 'bowed', halfWavesAt) : [];
  const [plain, curved] = [straight[0], bowed[0]];
  const [best, ...others] = plain && curved && earnsCurvature(plain, curved) ? bowed : straight;
  if (!best) throw new RangeError('a grid of curves has a lowest one');
  return { best, others: others.slice(0, MOST_OTHERS) };
}

function refinedCurves(
  series: CalibrationSeries,
  shape: 'straight' | 'bowed',
  halfWavesAt: (thicknessNm: number) => number,
): RefinedFit[] {
  const all = distinctStarts(series, startingCurves(series, shape))
    .map((start) => refineFit(series, start))
    .sort((a, b) => a.residualDeltaE - b.residualDeltaE);
  const plausible = all.filter((curve) => isPlausible(curve, series));
  const refined = plausible.length > 0 ? plausible : all;
  const orders = (curve: RefinedFit) =>
    series.points.map(({ voltageV }) => halfWavesAt(thicknessOn(curve.coefficients, voltageV)));
  const differ = (a: RefinedFit, b: RefinedFit) => {
    const others = orders(b);
    return orders(a).some((order, i) => Math.abs(order - (others[i] ?? NaN)) > OTHER_ORDER);
  };
  return refined.filter((curve, i) => refined.slice(0, i).every((better) => differ(curve, better)));
}

function earnsCurvature(plain: RefinedFit, curved: RefinedFit): boolean {
  const curvature = curved.coefficients[2];
  const variance = curved.covariance?.[2]?.[2];
  if (curvature === undefined || variance === undefined) return false;
  const { degreesOfFreedom } = curved;
  const significant =
    Math.abs(curvature) >
    studentQuantile({ probability: CURVATURE_PROBABILITY, degreesOfFreedom }) * Math.sqrt(variance);
  return significant && plain.residualDeltaE - curved.residualDeltaE > CURVATURE_GAIN_DELTA_E;
}

/** The best starts that differ from all better ones. */
function distinctStarts(series: CalibrationSeries, starts: readonly number[][]): number[][] {
  const alike = (one: readonly number[], other: readonly number[]) =>
    series.points.every(
      ({ voltageV }) => Math.abs(thicknessOn(one, voltageV) - thicknessOn(other, voltageV)) < SAME_START_NM,
    );
  const kept: number[][] = [];
  for (const start of starts) {
    if (kept.length === MOST_STARTS) break;
    if (!kept.some((better) => alike(start, better))) kept.push(start);
  }
  return kept;
}

/** Whether the mean slope is still in the range that was searched. */
function isPlausible(
  { coefficients: [, slope = 0, curvature = 0] }: RefinedFit,
  series: CalibrationSeries,
): boolean {
  const mean = slope + curvature * series.topVoltageV;
  return mean >= series.slopeNmPerV.low && mean <= series.slopeNmPerV.high;
}
