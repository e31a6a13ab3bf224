import { studentQuantile } from '../../numeric/index.ts';
import { type Ladder, thicknessOn } from './ladder.ts';
import { settle, type Settled } from './settle.ts';
import { startingCurves } from './starting-curves.ts';

/** Starting curves settled per shape, and other orders returned. */
const MOST_STARTS = 12;
/** Starts nearer than this at every coupon settle on the same curve, nm. */
const SAME_START_NM = 8;
const MOST_OTHERS = 4;
/** Two curves count the orders differently when some coupon differs by this many half-waves. */
const OTHER_ORDER = 0.3;
/**
 * Curvature earns its place when chance alone would give it in less than 1 of 100 ladders, and it helps
 * visibly.
 */
const CURVATURE_PROBABILITY = 0.995;
const CURVATURE_GAIN_DELTA_E = 0.1;

/** The best curve through a ladder and those that count the orders otherwise, best first. */
export function solveLadder(
  ladder: Ladder,
  halfWavesAt: (thicknessNm: number) => number,
): { best: Settled; others: Settled[] } {
  const straight = settledCurves(ladder, 'straight', halfWavesAt);
  const bowed = ladder.rungs.length > 3 ? settledCurves(ladder, 'bowed', halfWavesAt) : [];
  const [plain, curved] = [straight[0], bowed[0]];
  const [best, ...others] = plain && curved && earnsCurvature(plain, curved) ? bowed : straight;
  if (!best) throw new RangeError('a grid of curves has a lowest one');
  return { best, others: others.slice(0, MOST_OTHERS) };
}

function settledCurves(
  ladder: Ladder,
  shape: 'straight' | 'bowed',
  halfWavesAt: (thicknessNm: number) => number,
): Settled[] {
  const all = distinctStarts(ladder, startingCurves(ladder, shape))
    .map((start) => settle(ladder, start))
    .sort((a, b) => a.residualDeltaE - b.residualDeltaE);
  const plausible = all.filter((curve) => isPlausible(curve, ladder));
  const settled = plausible.length > 0 ? plausible : all;
  const orders = (curve: Settled) =>
    ladder.rungs.map(({ voltageV }) => halfWavesAt(thicknessOn(curve.coefficients, voltageV)));
  const differ = (a: Settled, b: Settled) => {
    const others = orders(b);
    return orders(a).some((order, i) => Math.abs(order - (others[i] ?? NaN)) > OTHER_ORDER);
  };
  return settled.filter((curve, i) => settled.slice(0, i).every((better) => differ(curve, better)));
}

function earnsCurvature(plain: Settled, curved: Settled): boolean {
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
function distinctStarts(ladder: Ladder, starts: readonly number[][]): number[][] {
  const alike = (one: readonly number[], other: readonly number[]) =>
    ladder.rungs.every(
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
function isPlausible({ coefficients: [, slope = 0, curvature = 0] }: Settled, ladder: Ladder): boolean {
  const mean = slope + curvature * ladder.topVoltageV;
  return mean >= ladder.slopeNmPerV.low && mean <= ladder.slopeNmPerV.high;
}
