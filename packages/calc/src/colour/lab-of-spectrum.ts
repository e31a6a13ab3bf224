import { checkName, checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { Lab } from './colour-types.ts';
import { xyzOf } from './from-reflectance.ts';
import { labUnder } from './lab.ts';
import { type MeasuredSpectrum, resample } from './measured-spectrum.ts';
import { type Viewing, weightsUnder } from './spectral-weights.ts';

/**
 * CIELAB of a measured spectrum under a light and for an observer, referred to the white of that light.
 *
 * `spectrum`: at least 400 to 700 nm by up to 20 nm, reflectance 0 to 1 (not per cent). `illuminant` D65, D50 or A; `observerDeg`
 * 2 (CIE 1931) or 10 (CIE 1964). A colour under one light is not to be compared with a colour under another.
 * Source: CIE 15:2004, plain sums over 81 samples from 380 to 780 nm.
 * Errors: `malformed` for a broken spectrum; `unknown` for the light; `not-finite`, `out-of-range`.
 *
 * @example
 * labOfSpectrum({ wavelengthsNm: [380, 400, 420, 440, 460, 480, 500, 520, 540, 560, 580, 600, 620, 640, 660, 680, 700], reflectance: Array.from({ length: 17 }, () => 0.5) }, { illuminant: 'A', observerDeg: 10 })
 * // { L: 76.069, a: 0, b: 0 }
 */
export function labOfSpectrum(spectrum: MeasuredSpectrum, viewing: Viewing): Lab {
  const illuminant = checkName('viewing.illuminant', viewing.illuminant, ['D65', 'D50', 'A']);
  const observerDeg = checkNumber('viewing.observerDeg', viewing.observerDeg);
  if (observerDeg !== 2 && observerDeg !== 10)
    throw new CalcError({
      code: 'out-of-range',
      argument: 'viewing.observerDeg',
      given: observerDeg,
      allowed: '2 or 10',
    });
  const { weights, white } = weightsUnder({ illuminant, observerDeg });
  return labUnder(xyzOf(resample('spectrum', spectrum), weights), white);
}
