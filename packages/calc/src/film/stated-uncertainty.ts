import { checkNumber } from '../check.ts';

/** An uncertainty as a report states it: with the factor of an expanded one, or null where it is standard already. */
export interface StatedUncertainty {
  value: number;
  coverageFactor: number | null;
}

/**
 * The standard uncertainty behind one that a report states: an expanded one over its coverage factor.
 *
 * In the unit of the figure; 0 or more, factors from 1 to 5. Source: JCGM 100:2008 (GUM), 4.3.3.
 * Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * standardUncertainty({ value: 0.5, coverageFactor: 2 }) // 0.25
 */
export function standardUncertainty({ value, coverageFactor }: StatedUncertainty): number {
  const stated = checkNumber('value', value, { min: 0 });
  return coverageFactor === null
    ? stated
    : stated / checkNumber('coverageFactor', coverageFactor, { min: 1, max: 5 });
}
