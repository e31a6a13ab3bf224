import { isMonotonic, type CalibrationSeries } from './calibration-series.ts';

/**
 * Finer than half the reach within which a curve converges, so that no way of counting the orders is missed.
 */
const STEP_NM = 4;
/** Film at zero volts, nm: below zero where part of the voltage is lost in the bath. */
const OFFSETS_NM = steps(-16, 32);
/** How far a curve bows from the straight line halfway to the highest voltage, nm. */
const BOWS_NM = steps(-24, 24);

function steps(from: number, to: number): number[] {
  return Array.from({ length: (to - from) / 4 + 1 }, (_, i) => from + 4 * i);
}

/**
 * Curves to start from: every straight or bowed monotonic curve on a grid is held against all coupons at
 * once, and those that beat all their neighbours are returned, best first. Each stands for one way of
 * counting the orders.
 */
export function startingCurves(series: CalibrationSeries, shape: 'straight' | 'bowed'): number[][] {
  const { low, high } = series.slopeNmPerV;
  const slopeStep = STEP_NM / series.topVoltageV;
  const axes = {
    offsets: OFFSETS_NM,
    slopes: Array.from({ length: Math.ceil((high - low) / slopeStep) + 1 }, (_, i) => low + slopeStep * i),
    bows: shape === 'straight' ? [0] : BOWS_NM,
  };
  const curveAt = ([i, j, k]: Place): number[] => {
    const bow = (4 * (axes.bows[k] ?? NaN)) / series.topVoltageV;
    const coefficients = [axes.offsets[i] ?? NaN, (axes.slopes[j] ?? NaN) + bow, -bow / series.topVoltageV];
    return coefficients.slice(0, shape === 'straight' ? 2 : 3);
  };
  const costs = axes.offsets.map((_, i) =>
    axes.slopes.map((__, j) => Float64Array.from(axes.bows, (___, k) => costOf(series, curveAt([i, j, k])))),
  );
  return lowestPlaces(costs).map(curveAt);
}

type Place = readonly [number, number, number];
type Grid = readonly (readonly Float64Array[])[];

/** The places that no neighbour beats, best first. */
function lowestPlaces(costs: Grid): Place[] {
  const lowest: { place: Place; cost: number }[] = [];
  for (const [i, plane] of costs.entries()) {
    for (const [j, row] of plane.entries()) {
      for (const [k, cost] of row.entries()) {
        if (cost < Infinity && !isBeaten(costs, [i, j, k])) lowest.push({ place: [i, j, k], cost });
      }
    }
  }
  return lowest.sort((a, b) => a.cost - b.cost).map(({ place }) => place);
}

function isBeaten(costs: Grid, [i, j, k]: Place): boolean {
  const cost = costs[i]?.[j]?.[k] ?? NaN;
  for (let di = -1; di <= 1; di++) {
    for (let dj = -1; dj <= 1; dj++) {
      const row = costs[i + di]?.[j + dj];
      if (!row) continue;
      for (let dk = -1; dk <= 1; dk++) if ((row[k + dk] ?? Infinity) < cost) return true;
    }
  }
  return false;
}

function costOf({ points, topVoltageV, thickestNm }: CalibrationSeries, curve: readonly number[]): number {
  if (!isMonotonic(curve, topVoltageV)) return Infinity;
  const [offset = 0, slope = 0, curvature = 0] = curve;
  let total = 0;
  for (const { voltageV, costs } of points) {
    const nm = Math.round(offset + voltageV * (slope + voltageV * curvature));
    total += costs[Math.min(thickestNm, Math.max(0, nm))] ?? Infinity;
  }
  return total;
}
