export { type LinearFit, linearFit } from './linear-fit.ts';
export { type NonlinearFit, nonlinearFit } from './nonlinear-fit.ts';
export { studentQuantile } from './student.ts';
