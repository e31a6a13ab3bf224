import { type CouponTrial, trialFactorKeys } from '@huelot/contracts';

/**
 * Whether a coupon is the piece that was measured: made on the same day, under the same settings, in the same run. What came out
 * of it and its colour may have been read again since.
 *
 * @example
 * isSameCoupon(measured.coupon, { ...measured.coupon, voltageV: 3 }) // false
 */
export const isSameCoupon = (measured: CouponTrial, now: CouponTrial): boolean =>
  measured.mark === now.mark &&
  measured.madeOn === now.madeOn &&
  measured.run?.id === now.run?.id &&
  measured.run?.piece === now.run?.piece &&
  trialFactorKeys.every((factor) => measured[factor] === now[factor]);
