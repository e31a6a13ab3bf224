/**
 * The public names of the calculation package, area by area. Each area lists its own in its `index.ts`.
 */
export { CalcError, type CalcErrorCode } from './errors.ts';
export { type LinearFit, linearFit, type NonlinearFit, nonlinearFit, studentQuantile } from './numeric/index.ts';
