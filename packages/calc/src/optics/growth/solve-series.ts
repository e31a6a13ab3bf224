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
/** A thickness that is known from elsewhere decides the order: curves further off than half a half-wave are of another. */
const SAME_ORDER = 0.5;
/**
 * Curvature earns its place when chance alone would give it in less than 1 of 100 series, and it helps
 * visibly.
 */
const CURVATURE_PROBABILITY = 0.995;
const CURVATURE_GAIN_DELTA_E = 0.1;

/**
 * The best curve through a series and those that count the orders otherwise, best first; null where none is within half an order
 * of `highestThicknessNm` at the highest coupon.
 */
export function solveSeries(
  series: CalibrationSeries,
  halfWavesAt: (thicknessNm: number) => number,
  { highestThicknessNm }: { highestThicknessNm?: number | undefined } = {},
): { best: RefinedFit; others: RefinedFit[] } | null {
  const isCounted = ({ coefficients }: RefinedFit) =>
    highestThicknessNm === undefined ||
    Math.abs(halfWavesAt(thicknessOn(coefficients, series.topVoltageV)) - halfWavesAt(highestThicknessNm)) <=
      SAME_ORDER;
  const countsOtherwise = (a: RefinedFit, b: RefinedFit) =>
    series.points.some(({ voltageV }) => {
      const [one = NaN, other = NaN] = [a, b].map(({ coefficients }) =>
        halfWavesAt(thicknessOn(coefficients, voltageV)),
      );
      return Math.abs(one - other) > OTHER_ORDER;
    });
  const straight = refinedCurves(series, 'straight', countsOtherwise).filter(isCounted);
  const bowed =
    series.points.length > 3 ? refinedCurves(series, 'bowed', countsOtherwise).filter(isCounted) : [];
  const [plain, curved] = [straight[0], bowed[0]];
  const isCurved = plain && curved && earnsCurvature(plain, curved);
  const [best, ...others] = isCurved ? bowed : straight;
  if (!best) return null;
  const bow = isCurved ? undefined : bowed.find((curve) => !countsOtherwise(curve, best));
  return { best: bow ? withBowInDoubt(best, bow) : best, others: others.slice(0, MOST_OTHERS) };
}

function refinedCurves(
  series: CalibrationSeries,
  shape: 'straight' | 'bowed',
  countsOtherwise: (a: RefinedFit, b: RefinedFit) => boolean,
): RefinedFit[] {
  const all = distinctStarts(series, startingCurves(series, shape))
    .map((start) => refineFit(series, start))
    .sort((a, b) => a.residualDeltaE - b.residualDeltaE);
  const plausible = all.filter((curve) => isPlausible(curve, series));
  const refined = plausible.length > 0 ? plausible : all;
  return refined.filter((curve, i) => refined.slice(0, i).every((better) => countsOtherwise(curve, better)));
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

/**
 * A straight law whose bow could not be told from chance is not known to be straight: what the bow would change counts as a
 * standard uncertainty beside the scatter of the coupons, at every voltage.
 * Source: the unconditional variance of a model that was selected, Burnham and Anderson, Model Selection and Multimodel
 * Inference, 2nd ed., section 4.3 (from memory), with the whole weight on the model that was not chosen.
 */
function withBowInDoubt(straight: RefinedFit, bowed: RefinedFit): RefinedFit {
  const { covariance } = straight;
  if (covariance === null) return straight;
  const change = bowed.coefficients.map((value, i) => value - (straight.coefficients[i] ?? 0));
  return {
    ...straight,
    covariance: change.map((one, i) => change.map((other, j) => (covariance[i]?.[j] ?? 0) + one * other)),
  };
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
