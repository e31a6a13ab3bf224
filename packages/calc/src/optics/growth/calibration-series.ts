import { ciede2000 } from '../../colour/delta-e.ts';
import type { ColourPath } from '../colour-path.ts';
import type { ReadCoupon } from './coupon.ts';

/** Coupons of one regime beside the colours their film could have. */
export interface CalibrationSeries {
  points: readonly CalibrationPoint[];
  path: ColourPath;
  topVoltageV: number;
  thickestNm: number;
  slopeNmPerV: { low: number; high: number };
}

export interface CalibrationPoint extends ReadCoupon {
  /** Squared dE00 between the coupon and the film, by whole nanometre of thickness. */
  costs: Float64Array;
}

/** A curve may flatten to this share of its mean slope, never turn over. */
const FLATTEST = 0.3;

export function calibrationSeries({
  coupons,
  path,
  slopeNmPerV,
}: {
  coupons: readonly ReadCoupon[];
  path: ColourPath;
  slopeNmPerV: { low: number; high: number };
}): CalibrationSeries {
  const topVoltageV = Math.max(...coupons.map((coupon) => coupon.voltageV));
  const thickestNm = Math.ceil(slopeNmPerV.high * topVoltageV + 100);
  const colours = Array.from({ length: thickestNm + 1 }, (_, nm) => path.labAt(nm));
  const points = coupons.map((coupon) => ({
    ...coupon,
    costs: Float64Array.from(colours, (lab) => ciede2000(coupon.lab, lab) ** 2),
  }));
  return { points, path, topVoltageV, thickestNm, slopeNmPerV };
}

/** Thickness, nm, of the curve with these coefficients, lowest power of the voltage first. */
export const thicknessOn = (coefficients: readonly number[], voltageV: number): number =>
  Math.max(
    0,
    coefficients.reduceRight((total, coefficient) => total * voltageV + coefficient, 0),
  );

/** Whether film only ever thickens between 0 V and the highest coupon. */
export function isMonotonic([, slope = 0, curvature = 0]: readonly number[], topVoltageV: number): boolean {
  const mean = slope + curvature * topVoltageV;
  const end = slope + 2 * curvature * topVoltageV;
  return mean > 0 && Math.min(slope, end) >= FLATTEST * mean;
}
