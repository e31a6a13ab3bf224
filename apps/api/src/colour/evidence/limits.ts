import { trialLimits } from '@huelot/calc';
import { trialDecides, type CouponTrial, type ProposedLimit } from '@huelot/contracts';
import { isLookedAt, settingOf, toStrengthTrial } from '../coupons/index.ts';
import { aimsOf } from './coverage.ts';
import type { ColourStep } from './queries.ts';

/** How alike coupons must be to hold a limit: a difference that most people see beside one another (common practice, no source). */
export const TOLERANCE_DELTA_E = 3;
/** Limits are typed to the hundredth. */
const SLACK = 0.005;

/**
 * The limits that coupons of one series support for a colour step, beside those it states. Nothing is proposed for a
 * setting that the coupons do not vary, nor where the step leaves a setting open that calc needs.
 */
export function proposeLimits(step: ColourStep, all: readonly CouponTrial[]): ProposedLimit[] {
  // Photos and words narrow no limit, and widen none.
  const trials = all.filter(trialDecides).filter(isLookedAt);
  const setting = settingOf(step);
  const strengths = trials.map(({ strength }) => strength).toSorted((one, other) => one - other);
  const strength = strengths[Math.floor(strengths.length / 2)];
  if (setting === null || strength === undefined) return [];
  const limits = trialLimits({
    trials: trials.map(toStrengthTrial),
    at: setting,
    strength,
    toleranceDeltaE: TOLERANCE_DELTA_E,
  });
  const { position, title } = step;
  return aimsOf(step).flatMap(({ quantity, target }): ProposedLimit[] => {
    const proposed = limits[quantity];
    const name = quantity === 'timeS' ? 'durationS' : quantity;
    const stated = step.settings.find((one) => one.quantity === name);
    // A time that the programme of the supply holds is no limit that anybody keeps.
    if (proposed === null || (quantity === 'timeS' && stated === undefined)) return [];
    const { low = null, high = null } = stated ?? {};
    const isWider =
      low === null || high === null || low < proposed.low - SLACK || high > proposed.high + SLACK;
    return [{ position, title, quantity: name, target, low, high, proposed, isWider }];
  });
}
