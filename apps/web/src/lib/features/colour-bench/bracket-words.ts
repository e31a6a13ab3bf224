import type { MatchCandidate } from '@huelot/calc';

const volts = (value: number) => `${Number(value.toFixed(1))} V`;

/**
 * Which coupons stand beside a candidate, in words.
 *
 * @example
 * bracketWords({ below: { voltageV: 18, deltaE: 9 }, above: null, bracketed: false }) // 'a coupon below only, at 18 V'
 */
export function bracketWords({ below, above }: Pick<MatchCandidate, 'below' | 'above'>): string {
  if (below && above)
    return below.voltageV === above.voltageV
      ? `a coupon at ${volts(below.voltageV)}`
      : `coupons at ${volts(below.voltageV)} and ${volts(above.voltageV)}`;
  if (below) return `a coupon below only, at ${volts(below.voltageV)}`;
  if (above) return `a coupon above only, at ${volts(above.voltageV)}`;
  return 'no coupon';
}
