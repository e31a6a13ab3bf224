import { checkFinite, checkNumber } from '../../check.ts';
import { studentQuantile } from '../../numeric/index.ts';
import { type FilmGrowth, growthFlags, thicknessOf } from './growth.ts';

export interface FilmThickness {
  thicknessNm: number;
  /** 95 % interval of the fitted curve at this voltage; null where nothing supports one. */
  intervalNm: { low: number; high: number } | null;
  flags: string[];
}

/**
 * Film thickness that a growth law gives at a voltage.
 *
 * `voltageV` from 0 to 1000, across the cell as the coupons were run. Outside the coupons the value is
 * flagged: use it to choose the next coupon, not to run work.
 * Source: the fitted or published growth law; interval from its covariance and Student's t.
 * Errors: `not-finite` or `out-of-range` for the voltage; `not-finite` for a figure of the growth law.
 *
 * @example
 * thicknessFromVoltage({ growth: nominalGrowth({ system: 'titanium' }), voltageV: 25 })
 * // { thicknessNm: 57, intervalNm: null }
 */
export function thicknessFromVoltage(input: { growth: FilmGrowth; voltageV: number }): FilmThickness {
  const { growth } = input;
  checkFinite('growth', growth);
  const voltageV = checkNumber('voltageV', input.voltageV, { min: 0, max: 1000 });
  const thicknessNm = thicknessOf(growth, voltageV);
  const half = halfIntervalNm(growth, voltageV);
  const outside = voltageV < growth.lowestVoltageV || voltageV > growth.highestVoltageV;
  return {
    thicknessNm,
    intervalNm: half === null ? null : { low: Math.max(0, thicknessNm - half), high: thicknessNm + half },
    flags: [
      ...growthFlags(growth),
      ...(outside ? [`outside the range of ${growth.lowestVoltageV} to ${growth.highestVoltageV} V`] : []),
    ],
  };
}

/** Half the 95 % interval of the fitted curve, nm. */
export function halfIntervalNm(growth: FilmGrowth, voltageV: number): number | null {
  if (!growth.uncertainty) return null;
  const { covariance, degreesOfFreedom } = growth.uncertainty;
  const variance = covariance
    .flatMap((row, i) => row.map((value, j) => value * voltageV ** (i + j)))
    .reduce((total, value) => total + value, 0);
  return studentQuantile({ probability: 0.975, degreesOfFreedom }) * Math.sqrt(Math.max(0, variance));
}
