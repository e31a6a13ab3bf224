import type { StrengthTrial } from '@huelot/calc';
import { type CouponOutcome, type CouponTrial, trialDecides } from '@huelot/contracts';

/** A coupon with an outcome: every one of an approved series. */
export type LookedAt = CouponTrial & { outcome: CouponOutcome };
export const isLookedAt = (trial: CouponTrial): trial is LookedAt => trial.outcome !== null;

/**
 * A coupon as a process map takes it. Whatever its grade it says what came out; only a colour that was measured or compared
 * goes into the colour that is predicted.
 */
export const toStrengthTrial = (trial: LookedAt): StrengthTrial => ({
  temperatureC: trial.temperatureC,
  voltageV: trial.voltageV ?? undefined,
  timeS: trial.timeS,
  strength: trial.strength,
  coatingThicknessUm: trial.coatingThicknessUm ?? undefined,
  pH: trial.pH ?? undefined,
  outcome: trial.outcome,
  ...(trial.lab !== null && trialDecides(trial) ? { lab: trial.lab } : {}),
});
