import { checkNumber } from '../check.ts';

/**
 * Current density after a time, and the charge that has passed by then, where the current falls from a peak towards a
 * steady value: j(t) = steady + (peak - steady) exp(-t/time constant). Without a time constant it does not fall: the
 * steady value flows throughout.
 *
 * Units: A/m2, s. Ranges: densities and time 0 or more, time constant more than zero or null. Source: the expression and
 * its integral; the exponential is a common description of film growth with leakage, to be fitted to one's own records.
 * Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * fallingCurrent({ peakAPerM2: 200, steadyAPerM2: 5, timeConstantS: 12, afterS: 12 })
 * // { currentDensityAPerM2: 76.7365, chargeCPerM2: 1539.16 }
 */
export function fallingCurrent(input: {
  peakAPerM2: number;
  steadyAPerM2: number;
  timeConstantS: number | null;
  afterS: number;
}): { currentDensityAPerM2: number; chargeCPerM2: number } {
  const peak = checkNumber('peakAPerM2', input.peakAPerM2, { min: 0 });
  const steady = checkNumber('steadyAPerM2', input.steadyAPerM2, { min: 0 });
  const afterS = checkNumber('afterS', input.afterS, { min: 0 });
  if (input.timeConstantS === null) return { currentDensityAPerM2: steady, chargeCPerM2: steady * afterS };
  const timeConstantS = checkNumber('timeConstantS', input.timeConstantS, { above: 0 });
  // expm1 keeps the figures of a step much shorter than its time constant.
  const fallen = -Math.expm1(-afterS / timeConstantS);
  return {
    currentDensityAPerM2: steady + (peak - steady) * (1 - fallen),
    chargeCPerM2: steady * afterS + (peak - steady) * timeConstantS * fallen,
  };
}
