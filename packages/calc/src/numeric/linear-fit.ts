import { checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type FitQuality, fitQuality } from './fit-quality.ts';
import { leastSquares } from './least-squares.ts';
import { checkPairs, mean, sumOfSquares } from './summation.ts';

export interface LinearFit extends FitQuality {
  /** Lowest power first; without an intercept the first one belongs to x. */
  coefficients: number[];
  /** Share of the variation explained: about the mean with an intercept, about zero without. 1 for constant y. */
  rSquared: number;
}

/**
 * Least-squares polynomial through points of equal weight: a straight line unless a degree is given, through the
 * origin when `intercept` is false. Units of the coefficients follow from those of x and y.
 *
 * Valid for at least as many points as coefficients and as many different x; degree 1 to 8. With no point to spare the
 * standard errors and the residual standard deviation are null and a flag says so.
 * Source: orthogonal factorisation (Björck 1967); held to the NIST Statistical Reference Datasets for linear
 * regression.
 * Errors: `malformed` for lists that do not fit together, `out-of-range` for the degree, `impossible` when the x values
 * cannot tell the coefficients apart.
 *
 * @example
 * linearFit({ x: [10, 20, 30, 40], y: [31.5, 49, 70.5, 89] })
 * // { coefficients: [11.5, 1.94], residualStandardDeviation: 1.1619, rSquared: 0.9986, degreesOfFreedom: 2 }
 */
export function linearFit(input: {
  x: readonly number[];
  y: readonly number[];
  degree?: number;
  intercept?: boolean;
}): LinearFit {
  const degree = checkWhole('degree', input.degree ?? 1, { min: 1, max: 8 });
  const intercept = input.intercept ?? true;
  const powers = Array.from({ length: degree + 1 }, (_, power) => power).slice(intercept ? 0 : 1);
  const { x, y } = checkPairs(input, powers.length);

  const solved = leastSquares(
    powers.map((power) => x.map((value) => value ** power)),
    y,
  );
  if (!solved) {
    throw new CalcError({
      code: 'impossible',
      argument: 'x',
      given: `${new Set(x).size} different value${new Set(x).size === 1 ? '' : 's'}`,
      allowed: `at least ${powers.length} values different enough to tell the coefficients apart`,
    });
  }
  const { coefficients } = solved;
  const polynomial = [...(intercept ? [] : [0]), ...coefficients];
  const residuals = y.map((value, i) => value - evaluatePolynomial(polynomial, x[i] ?? NaN));
  const quality = fitQuality({ residuals, inverseNormal: solved.inverseNormal() });
  const variation = sumOfSquares(y, intercept ? mean(y) : 0);
  return {
    coefficients,
    ...quality,
    rSquared: variation === 0 ? 1 : 1 - quality.residualSumOfSquares / variation,
  };
}

/** Horner's rule, lowest power first. */
const evaluatePolynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((total, coefficient) => total * x + coefficient, 0);
