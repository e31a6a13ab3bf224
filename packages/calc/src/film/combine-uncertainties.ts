import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { studentQuantile } from '../numeric/index.ts';

/** One source of uncertainty of a figure, in the unit of the figure. */
export interface UncertaintyContribution {
  /** In words: `scatter of the pairs`. */
  source: string;
  /** Standard uncertainty of the figure that comes of this source, 0 or more. */
  standardUncertainty: number;
  /** Of a scatter; null where the value is taken as known, as from a certificate. */
  degreesOfFreedom: number | null;
}

export interface CombinedUncertainty {
  standardUncertainty: number;
  /** By Welch and Satterthwaite; null where none of the sources is a scatter. */
  degreesOfFreedom: number | null;
  /** What the standard uncertainty is multiplied by for 95 %. */
  coverageFactor: number;
}

const MOST_DEGREES = 1e6;

/**
 * Standard uncertainty of a figure from independent sources, with the factor that makes it an interval of 95 %.
 *
 * Contributions in the unit of the figure, 1 to 50 of them, each 0 or more and one of them above 0; degrees of freedom from 1.
 * Source: JCGM 100:2008 (GUM), 5.1.2 and G.4; the example is that of G.4.1.
 * Errors: `not-finite`, `out-of-range`; `impossible` where nothing contributes.
 *
 * @example
 * const contributions = [[0.25, 9], [0.57, 4], [0.82, 14]].map(([standardUncertainty, degreesOfFreedom]) => ({ source: '', standardUncertainty, degreesOfFreedom }));
 * combineUncertainties({ contributions }) // { standardUncertainty: 1.03, degreesOfFreedom: 19.0, coverageFactor: 2.09 }
 */
export function combineUncertainties({
  contributions,
}: {
  contributions: readonly UncertaintyContribution[];
}): CombinedUncertainty {
  checkNumber('contributions.length', contributions.length, { min: 1, max: 50 });
  const parts = contributions.map(({ standardUncertainty, degreesOfFreedom }, index) => ({
    u: checkNumber(`contributions[${index}].standardUncertainty`, standardUncertainty, { min: 0 }),
    degrees:
      degreesOfFreedom === null
        ? Infinity
        : checkNumber(`contributions[${index}].degreesOfFreedom`, degreesOfFreedom, { min: 1 }),
  }));
  const standardUncertainty = Math.hypot(...parts.map(({ u }) => u));
  if (standardUncertainty === 0) {
    throw new CalcError({
      ...{ code: 'impossible', argument: 'contributions', given: 0 },
      allowed: 'at least one source above 0',
    });
  }
  // As shares, so that the fourth power of a nanometre in metres is no zero.
  const inverse = parts.reduce((sum, { u, degrees }) => sum + (u / standardUncertainty) ** 4 / degrees, 0);
  const degreesOfFreedom = inverse * MOST_DEGREES <= 1 ? null : Math.max(1, 1 / inverse);
  return {
    standardUncertainty,
    degreesOfFreedom,
    coverageFactor: studentQuantile({
      probability: 0.975,
      degreesOfFreedom: degreesOfFreedom ?? MOST_DEGREES,
    }),
  };
}
