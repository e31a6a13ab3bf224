import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { wavelengthsNm } from './spectral-weights.ts';

/** Spectral reflectance as an instrument gives it: ascending wavelengths, values 0 to 1 (not per cent). */
export interface MeasuredSpectrum {
  wavelengthsNm: readonly number[];
  reflectance: readonly number[];
}

/** Instruments may read a dark surface a little below 0, a bright metal a little above 1. */
const READING = { min: -0.05, max: 1.2 };
const WIDEST_STEP_NM = 20;

/**
 * The spectrum at the 81 wavelengths: Lagrange's cubic through the four nearest readings, one of the ways CIE
 * 15:2004 names; beyond the first and last reading the nearest value, as it allows.
 */
export function resample(argument: string, spectrum: MeasuredSpectrum): number[] {
  const { measured, values } = checkSpectrum(argument, spectrum);
  const first = measured[0] ?? NaN;
  const last = measured.at(-1) ?? NaN;
  return wavelengthsNm.map((wavelength) => {
    const within = Math.min(last, Math.max(first, wavelength));
    const above = Math.max(
      0,
      measured.findIndex((index) => index >= within),
    );
    const from = Math.min(Math.max(0, above - 2), measured.length - 4);
    return lagrange(measured.slice(from, from + 4), values.slice(from, from + 4), within);
  });
}

function lagrange(xs: readonly number[], ys: readonly number[], x: number): number {
  return ys.reduce((total, y, i) => {
    const xi = xs[i] ?? NaN;
    return total + xs.reduce((product, xj, j) => (j === i ? product : (product * (x - xj)) / (xi - xj)), y);
  }, 0);
}

function checkSpectrum(argument: string, spectrum: MeasuredSpectrum) {
  const refuse = (part: string, value: unknown, allowed: string) =>
    new CalcError({ code: 'malformed', argument: `${argument}.${part}`, given: value, allowed });
  const { wavelengthsNm: measured, reflectance } = spectrum;
  measured.forEach((index, i) =>
    checkNumber(`${argument}.wavelengthsNm[${i}]`, index, { min: 200, max: 2500 }),
  );
  const values = reflectance.map((value, i) => checkNumber(`${argument}.reflectance[${i}]`, value, READING));
  if (values.length !== measured.length) {
    throw refuse('reflectance', `a list of ${values.length}`, `${measured.length} values, one a wavelength`);
  }
  const steps = measured.slice(1).map((index, i) => index - (measured[i] ?? NaN));
  if (!steps.every((step) => step > 0 && step <= WIDEST_STEP_NM)) {
    throw refuse('wavelengthsNm', steps.join(', '), `ascending, steps of at most ${WIDEST_STEP_NM} nm`);
  }
  if (!((measured[0] ?? Infinity) <= 400 && (measured.at(-1) ?? 0) >= 700)) {
    throw refuse('wavelengthsNm', `${measured[0]} to ${measured.at(-1)} nm`, 'at least 400 to 700 nm');
  }
  return { measured, values };
}
