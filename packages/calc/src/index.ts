/**
 * The public names of the calculation package, area by area. Each area lists its own in its `index.ts`.
 */
export { CalcError, type CalcErrorCode, faultWords } from './errors.ts';
export { CALC_VERSION } from './version.ts';
export * from './numeric/index.ts';
export * from './units/index.ts';
export * from './colour/index.ts';
export * from './optics/index.ts';
export * from './costing/index.ts';
export * from './bath/index.ts';
export * from './lab/index.ts';
export * from './plausibility/index.ts';
export * from './heat/index.ts';
export * from './corrosion/index.ts';
export * from './film/index.ts';
export * from './quality/index.ts';
export * from './geometry/index.ts';
export * from './electro/index.ts';
export * from './planning/index.ts';
