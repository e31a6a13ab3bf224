import { checkNumber } from '../check.ts';
import { studentQuantile } from '../numeric/index.ts';
import {
  fitPolarizationResistance,
  type PolarizationPoint,
  type PolarizationResistance,
} from './polarization-resistance.ts';
import { corrosionCurrentDensity, corrosionRate } from './rate.ts';

export interface CorrosionScan {
  points: readonly PolarizationPoint[];
  /** Wetted. */
  areaCm2: number;
  /** On either side of the corrosion potential, 0.002 to 0.05. */
  windowV: number;
  /** Times the area; left out where it was not measured. */
  solutionResistanceOhmCm2?: number | undefined;
  sternGearyV: number;
  /** Grams per mole of electrons. */
  equivalentWeight: number;
  densityGPerCm3: number;
}

export interface ScanResult extends Omit<PolarizationResistance, 'used'> {
  /** Points inside the window. */
  used: number;
  microampPerCm2: number;
  mmPerYear: number;
  /** Of the rate, 95 %, from the scatter of the line alone; null where three points leave none, or it has no upper end. */
  intervalMmPerYear: { low: number; high: number } | null;
}

/**
 * The corrosion rate that one scan through the corrosion potential gives, with the interval that the scatter of its line
 * leaves. The rate is as good as its Stern-Geary coefficient, which the interval does not know of; a ratio of two scans
 * with the same coefficient is better than either.
 *
 * Ranges as in {@link fitPolarizationResistance}, {@link corrosionCurrentDensity} and {@link corrosionRate}.
 * Source: ASTM G59 and G102; interval of a slope by Student's t.
 * Errors: as those three.
 *
 * @example
 * const points = [-8, -4, 0, 4, 8].map((microamp) => ({ potentialV: -0.45 + 0.00125 * microamp, currentA: microamp * 1e-6 }));
 * corrosionFromScan({ points, areaCm2: 10, windowV: 0.01, solutionResistanceOhmCm2: 0, sternGearyV: 0.026, equivalentWeight: 27.92, densityGPerCm3: 7.87 })
 * // { polarizationResistanceOhmCm2: 12500, microampPerCm2: 2.08, mmPerYear: 0.024135, used: 5 }
 */
export function corrosionFromScan(scan: CorrosionScan): ScanResult {
  const { points, areaCm2, windowV, solutionResistanceOhmCm2 } = scan;
  const { used, ...fit } = fitPolarizationResistance({
    ...{ points, areaCm2, windowV },
    ...(solutionResistanceOhmCm2 === undefined ? {} : { solutionResistanceOhmCm2 }),
  });
  const sternGearyV = checkNumber('sternGearyV', scan.sternGearyV, { above: 0, max: 0.2 });
  const currentAt = (polarizationResistanceOhmCm2: number) =>
    corrosionCurrentDensity({ polarizationResistanceOhmCm2, sternGearyV }).microampPerCm2;
  const rateAt = (currentDensityUAPerCm2: number) =>
    corrosionRate({
      currentDensityUAPerCm2,
      equivalentWeight: scan.equivalentWeight,
      densityGPerCm3: scan.densityGPerCm3,
    }).mmPerYear;
  const microampPerCm2 = currentAt(fit.polarizationResistanceOhmCm2);
  const spare =
    fit.standardErrorOhmCm2 === null
      ? null
      : studentQuantile({ probability: 0.975, degreesOfFreedom: used.length - 2 }) * fit.standardErrorOhmCm2;
  const { polarizationResistanceOhmCm2: resistance } = fit;
  return {
    ...fit,
    used: used.length,
    microampPerCm2,
    mmPerYear: rateAt(microampPerCm2),
    intervalMmPerYear:
      spare === null || spare >= resistance
        ? null
        : { low: rateAt(currentAt(resistance + spare)), high: rateAt(currentAt(resistance - spare)) },
  };
}
