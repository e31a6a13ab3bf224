export { readFilmThicknesses, type ThicknessOf } from './coupon-film.ts';
export { keepMeasurement } from './measurements.ts';
