import { checkNumber } from '../../check.ts';
import type { Lab } from '../../colour/colour-types.ts';
import { labOfReading } from '../../colour/from-readings.ts';
import type { MeasuredSpectrum } from '../../colour/measured-spectrum.ts';

/**
 * One point of a calibration series: what one voltage gave, as CIELAB (D65, 2 degree, specular included) or as a spectrum.
 */
export type Coupon = { voltageV: number } & ({ lab: Lab } | { spectrum: MeasuredSpectrum });

export interface ReadCoupon {
  voltageV: number;
  lab: Lab;
}

export const readCoupons = (coupons: readonly Coupon[]): ReadCoupon[] =>
  coupons.map((coupon, i) => ({
    voltageV: checkNumber(`coupons[${i}].voltageV`, coupon.voltageV, { min: 0, max: 1000 }),
    lab:
      'lab' in coupon
        ? labOfReading(`coupons[${i}].lab`, coupon.lab)
        : labOfReading(`coupons[${i}].spectrum`, coupon.spectrum),
  }));
