import { z } from 'zod';
import { Lab } from '../kernel/scalars.ts';

const Interval = z.object({ low: z.number(), high: z.number() });
const curve = { offsetNm: z.number(), slopeNmPerV: z.number(), curvatureNmPerV2: z.number() };

/** Thickness against voltage, offset + slope V + curvature V², as calc fits it; it holds only with its optical constants. */
export const GrowthLaw = z
  .object({
    system: z.object({ film: z.string(), substrate: z.string() }),
    angleDeg: z.number(),
    voidFraction: z.number(),
    regime: z
      .object({
        alloy: z.string(),
        preparation: z.string(),
        bath: z.string(),
        temperatureC: z.number(),
        holdS: z.number(),
      })
      .nullable(),
    ...curve,
    lowestVoltageV: z.number(),
    highestVoltageV: z.number(),
    residualDeltaE: z.number().nullable(),
    uncertainty: z
      .object({ covariance: z.array(z.array(z.number())), degreesOfFreedom: z.number() })
      .nullable(),
  })
  .meta({ id: 'GrowthLaw' });

export const CalibrationVerdict = z.enum(['good', 'order uncertain', 'wrong constants or surface']);
export type CalibrationVerdict = z.output<typeof CalibrationVerdict>;

/** What the coupons say together: the law, how well it holds, the order of each, and other ways to count the orders. */
export const CalibrationFit = z
  .object({
    growth: GrowthLaw,
    /** 95 %; null with no coupon to spare. */
    intervals: z
      .object({ offsetNm: Interval, slopeNmPerV: Interval, curvatureNmPerV2: Interval.nullable() })
      .nullable(),
    /** Root mean square dE00 of the coupons from the law, and what no thickness explains. */
    residualDeltaE: z.number(),
    unexplainedDeltaE: z.number(),
    /** In the order of voltage. */
    coupons: z.array(
      z.object({
        voltageV: z.number(),
        thicknessNm: z.number(),
        order: z.int(),
        predicted: Lab,
        deltaE: z.number(),
        ownThicknessNm: z.number(),
        ownDeltaE: z.number(),
      }),
    ),
    alternatives: z.array(z.object({ ...curve, orders: z.array(z.int()), residualDeltaE: z.number() })),
    verdict: CalibrationVerdict,
    flags: z.array(z.string()),
  })
  .meta({ id: 'CalibrationFit' });
export type CalibrationFit = z.output<typeof CalibrationFit>;

/**
 * A verdict in words, with the voltage at which one more coupon decides the orders where there is one.
 *
 * @example
 * verdictWords('order uncertain', 62.5) // 'Orders not decided: coat one more coupon at 62.5 V.'
 */
export function verdictWords(verdict: CalibrationVerdict, nextV: number | null): string {
  if (verdict === 'good') return 'The coupons agree with one law.';
  if (verdict === 'wrong constants or surface')
    return 'Wrong constants or surface: the law misses its own coupons, so that nothing is proposed from it.';
  return nextV === null
    ? 'Orders not decided: another count of them fits as well, and no coupon in this range would tell.'
    : `Orders not decided: coat one more coupon at ${nextV} V.`;
}
