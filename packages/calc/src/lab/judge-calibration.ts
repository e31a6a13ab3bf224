import { checkNumber } from '../check.ts';

export interface CalibrationReading {
  /** What the reference said. */
  reference: number;
  /** What the instrument showed. */
  reading: number;
  /** The largest error allowed, either way. */
  tolerance: number;
  /** Of the calibration, for about 95 %; null where nobody states one. */
  expandedUncertainty: number | null;
}

export interface JudgedCalibration {
  /** What the instrument showed less what the reference said. */
  error: number;
  verdict: 'pass' | 'fail';
  /** The error is nearer to its tolerance than the uncertainty of the calibration: either verdict may be wrong. */
  isUncertain: boolean;
}

/** Figures typed in decimals differ in the last bits: 20.1 − 20 is not 0.1. */
const ROUNDING = 1e-9;

/**
 * Judges one point of a calibration of an instrument: simple acceptance, an error of at most the tolerance passes. All figures are in
 * the unit of the instrument; the tolerance is above 0, the expanded uncertainty (k = 2) from 0. Where the error lies nearer to the
 * tolerance than the uncertainty, on either side, the point says so beside its verdict.
 * Source: JCGM 106:2012, 8.2 for simple acceptance; ISO/IEC Guide 99:2007, 2.39 for what a calibration is (both from memory).
 * Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * judgeCalibration({ reference: 60, reading: 60.8, tolerance: 1, expandedUncertainty: 0.3 })
 * // { error: 0.8, verdict: 'pass', isUncertain: true }
 */
export function judgeCalibration(input: CalibrationReading): JudgedCalibration {
  const reference = checkNumber('reference', input.reference);
  const reading = checkNumber('reading', input.reading);
  const tolerance = checkNumber('tolerance', input.tolerance, { above: 0 });
  const expanded =
    input.expandedUncertainty === null
      ? 0
      : checkNumber('expandedUncertainty', input.expandedUncertainty, { min: 0 });
  const error = reading - reference;
  const room = tolerance - Math.abs(error);
  const slack = ROUNDING * Math.max(Math.abs(reading), Math.abs(reference), tolerance);
  return {
    error,
    verdict: room >= -slack ? 'pass' : 'fail',
    isUncertain: Math.abs(room) < expanded - slack,
  };
}
