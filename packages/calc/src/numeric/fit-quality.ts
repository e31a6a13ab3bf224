import { sumOfSquares } from './summation.ts';

/** What both kinds of fit say about themselves. */
export interface FitQuality {
  /** In the order of the coefficients; null when no degree of freedom is left to estimate them from. */
  standardErrors: number[] | null;
  /** Variances on the diagonal; for the interval of anything computed from several coefficients. Null likewise. */
  covariance: number[][] | null;
  /** Observed minus fitted, in the order of the points. */
  residuals: number[];
  residualSumOfSquares: number;
  residualStandardDeviation: number | null;
  degreesOfFreedom: number;
  flags: string[];
}

/** Turns residuals and the inverse of the normal matrix into standard errors. */
export function fitQuality(solved: {
  residuals: number[];
  inverseNormal: readonly (readonly number[])[];
}): FitQuality {
  const { residuals, inverseNormal } = solved;
  const residualSumOfSquares = sumOfSquares(residuals);
  const degreesOfFreedom = residuals.length - inverseNormal.length;
  const shared = { residuals, residualSumOfSquares, degreesOfFreedom };
  if (degreesOfFreedom === 0) {
    const flags = ['as many coefficients as points: nothing left to estimate the uncertainty from'];
    return { ...shared, standardErrors: null, covariance: null, residualStandardDeviation: null, flags };
  }
  const variance = residualSumOfSquares / degreesOfFreedom;
  const covariance = inverseNormal.map((row) => row.map((value) => value * variance));
  return {
    ...shared,
    standardErrors: covariance.map((row, k) => Math.sqrt(row[k] ?? NaN)),
    covariance,
    residualStandardDeviation: Math.sqrt(variance),
    flags: [],
  };
}
