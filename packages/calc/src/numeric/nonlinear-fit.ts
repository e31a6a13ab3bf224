import { checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type FitQuality, fitQuality } from './fit-quality.ts';
import { levenbergMarquardt } from './levenberg-marquardt.ts';
import { checkPairs, checkSeries } from './summation.ts';

export interface NonlinearFit extends FitQuality {
  /** In the order of `start`. */
  parameters: number[];
  iterations: number;
  /** False when the search ended elsewhere than at a minimum; a flag then says so. */
  converged: boolean;
}

/**
 * Least-squares fit of any smooth model y = model(x, parameters) to points of equal weight, searched downhill from
 * `start`. It finds the minimum nearest to the start, not always the lowest one: a start of the right order of magnitude
 * matters. Units are those of the model.
 *
 * Valid for at least as many points as parameters and a model that is finite at the start. A fit that did not converge,
 * or whose parameters the points cannot tell apart (standard errors null), carries a flag.
 * Source: Levenberg-Marquardt (Marquardt 1963, Moré 1978) with numerical derivatives; held to the NIST Statistical
 * Reference Datasets for nonlinear regression, second start.
 * Errors: `malformed` for lists that do not fit together, `impossible` when the model is not finite at the start.
 *
 * @example
 * const saturating = (x: number, [limit = 0, rate = 0]: readonly number[]) => limit * (1 - Math.exp(-rate * x));
 * nonlinearFit({ model: saturating, x: [10, 20, 40, 80], y: [39.3, 63.2, 86.5, 98.2], start: [80, 0.1] })
 * // { parameters: [100.06, 0.0499], converged: true, degreesOfFreedom: 2 }
 */
export function nonlinearFit(input: {
  model: (x: number, parameters: readonly number[]) => number;
  x: readonly number[];
  y: readonly number[];
  start: readonly number[];
  maxIterations?: number;
}): NonlinearFit {
  const start = checkSeries('start', input.start, 1);
  const { x, y } = checkPairs(input, start.length);
  const maxIterations = checkWhole('maxIterations', input.maxIterations ?? 2000, { min: 1 });
  const fitted = (parameters: readonly number[]) => x.map((value) => input.model(value, parameters));
  if (!fitted(start).every(Number.isFinite)) {
    throw new CalcError({
      code: 'impossible',
      argument: 'start',
      given: start.join(', '),
      allowed: 'parameters for which the model is finite at every x',
    });
  }

  const minimum = levenbergMarquardt({
    residuals: (parameters) => fitted(parameters).map((value, i) => value - (y[i] ?? NaN)),
    start,
    maxIterations,
  });
  const { parameters, iterations, converged, inverseNormal } = minimum;
  const quality = fitQuality({
    residuals: minimum.residuals.map((value) => -value),
    inverseNormal: inverseNormal ?? parameters.map(() => parameters.map(() => NaN)),
  });
  const flags = [
    ...quality.flags,
    ...(converged ? [] : ['not converged: try a start nearer to the answer']),
    ...(inverseNormal ? [] : ['the points cannot tell the parameters apart']),
  ];
  const unknown = inverseNormal ? {} : { standardErrors: null, covariance: null };
  return { parameters, iterations, converged, ...quality, ...unknown, flags };
}
