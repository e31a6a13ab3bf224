import { checkNumber } from '../check.ts';
import { normalAbove } from '../numeric/normal.ts';

/** `warn` is the guard band: inside the limit, and too close to it to be sure. */
export type Conformity = 'pass' | 'warn' | 'hold';

export interface JudgedConformity {
  verdict: Conformity;
  /** The limit less the guard band: what is at most this passes. */
  acceptanceLimit: number;
  /** Probability that the true value lies beyond the limit, 0 to 1. */
  riskBeyond: number;
}

/** Expanded uncertainties are of about 95 % throughout: twice the standard uncertainty. */
const COVERAGE_FACTOR = 2;

/**
 * Judges a measured value against an upper limit with a guard band, so that the uncertainty of the reading is not given
 * away to whoever asks for the limit. The band is `guardFactor` times the expanded uncertainty (k = 2) wide and lies inside
 * the limit: at most limit - band passes, between there and the limit warns, above the limit holds.
 *
 * With factor 1 a value that just passes lies beyond the limit with a probability of 2.3 %, with 0.83 of 4.8 %, with 0 (the
 * limit itself, no band) of 50 %. The probability is that of a normal distribution about the reading. Valid for expanded
 * uncertainties from 0 and factors from 0 to 3, in the unit of the limit.
 * Source: ILAC-G8:09/2019, 4.2 and table 1 (guard band w = r U; clause from memory); ISO 14253-1:2017 takes 0.83 U as its
 * default (from memory); JCGM 106:2012, 7.4 for the probability, whose example of a breakdown voltage it meets.
 * Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * judgeConformity({ value: 2.6, upperLimit: 3, expandedUncertainty: 0.5, guardFactor: 1 })
 * // { verdict: 'warn', acceptanceLimit: 2.5, riskBeyond: 0.0548 }
 */
export function judgeConformity(input: {
  value: number;
  upperLimit: number;
  expandedUncertainty: number;
  guardFactor: number;
}): JudgedConformity {
  const value = checkNumber('value', input.value);
  const upperLimit = checkNumber('upperLimit', input.upperLimit);
  const expanded = checkNumber('expandedUncertainty', input.expandedUncertainty, { min: 0 });
  const guardFactor = checkNumber('guardFactor', input.guardFactor, { min: 0, max: 3 });
  const acceptanceLimit = upperLimit - guardFactor * expanded;
  return {
    verdict: value <= acceptanceLimit ? 'pass' : value <= upperLimit ? 'warn' : 'hold',
    acceptanceLimit,
    riskBeyond: riskBeyond(upperLimit - value, expanded / COVERAGE_FACTOR),
  };
}

function riskBeyond(room: number, standardUncertainty: number): number {
  if (standardUncertainty === 0) return room >= 0 ? 0 : 1;
  return normalAbove(room / standardUncertainty);
}
