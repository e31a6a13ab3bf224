import type { NextCoupon } from '@huelot/calc';

const volts = (value: number | null) =>
  value === null ? 'unknown' : `${value.toFixed(value < 1 ? 2 : 1)} V`;

/**
 * Why the next coupon is where it is, or why there is none, in words.
 *
 * @example
 * whyWords({ voltageV: null, why: { code: 'wrong-constants', residualDeltaE: 6.2 } })
 * // 'No further coupon helps: the law misses these by dE 6.2. Look at the constants and the surface first.'
 */
export function whyWords({ why }: NextCoupon): string {
  switch (why.code) {
    case 'decides-orders':
      return `There the ${why.alternatives + 1} ways to count the orders differ by dE ${why.separationDeltaE.toFixed(0)}, ${why.ratio.toFixed(0)} times what a coupon scatters.`;
    case 'narrows-target':
      return `It narrows the voltage of the colour that is wanted from ± ${volts(why.beforeV)} to ± ${volts(why.afterV)}.`;
    case 'narrows-law':
      return `The orders are decided. At ${volts(why.aboutVoltageV)}, where the law is known least, it narrows the voltage from ± ${volts(why.beforeV)} to ± ${volts(why.afterV)}.`;
    case 'not-told-apart':
      return `No coupon in this range tells the ${why.alternatives + 1} ways to count the orders apart: they differ by less than coupons scatter. Allow other voltages.`;
    case 'wrong-constants':
      return `No further coupon helps: the law misses these by dE ${why.residualDeltaE.toFixed(1)}. Look at the constants and the surface first.`;
  }
}
