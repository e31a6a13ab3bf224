import { checkNumber } from '../check.ts';

/** Below this share of the planned time a step without limits of its own is asked about. */
const PLAIN_SHARE = 0.8;

export interface StepTime {
  /** Time the step is planned for, s; 0 where time does not matter. */
  plannedS: number;
  /** Lower limit of the time, s, where the step has one. */
  lowS: number | null;
  /** The longest the step can have taken, s: from In to Out, or since the step before was done. */
  tookS: number;
}

export interface ShortTime {
  /** The least time that raises no question, s. */
  leastS: number;
  plannedS: number;
  tookS: number;
}

/**
 * Whether a step is signed faster than it takes: what was measured, or `null` where nothing is to be asked. A step
 * without a limit of its own may take a fifth less than planned.
 *
 * All times in s, 0 to 1e8. Errors: `not-finite`, `out-of-range`.
 * Source: arithmetic; the fifth is this service's choice, with no standard behind it.
 *
 * @example
 * shortTime({ plannedS: 1800, lowS: null, tookS: 12 }) // { leastS: 1440, plannedS: 1800, tookS: 12 }
 */
export function shortTime({ plannedS, lowS, tookS }: StepTime): ShortTime | null {
  const range = { min: 0, max: 1e8 };
  checkNumber('plannedS', plannedS, range);
  checkNumber('tookS', tookS, range);
  const leastS = lowS === null ? plannedS * PLAIN_SHARE : checkNumber('lowS', lowS, range);
  return tookS < leastS ? { leastS, plannedS, tookS } : null;
}
