import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { Colour, Xyz } from './colour-types.ts';
import { labToLch, xyzToLab } from './lab.ts';
import { spectralWeights, type Weights } from './spectral-weights.ts';
import { xyzToSrgb } from './srgb.ts';

/**
 * The colour of a surface from its spectral reflectance, seen under D65 by the 2 degree observer.
 *
 * `reflectance`: 81 values from 0 to 1 (not per cent) at 380 to 780 nm by 5 nm. Gives tristimulus values on
 * the scale where a perfect reflector has Y = 100, CIELAB and its polar form referred to that white, and the
 * screen colour with whether a screen can show it.
 * Source: CIE 15:2004, plain sums over the 81 samples; IEC 61966-2-1:1999 for the screen. Against 1 nm steps
 * the 5 nm sums differ by at most 0.09 dE00 for films up to 400 nm.
 * Errors: `malformed` for another number of values, `not-finite` or `out-of-range` for a value.
 *
 * @example
 * colourFromReflectance(Array.from({ length: 81 }, () => 0.5)).lab // { L: 76.069, a: 0, b: 0 }
 */
export function colourFromReflectance(reflectance: ArrayLike<number>): Colour {
  if (reflectance.length !== spectralWeights.x.length) {
    throw new CalcError({
      code: 'malformed',
      argument: 'reflectance',
      given: `a list of ${reflectance.length}`,
      allowed: 'a list of 81 values, 380 to 780 nm by 5 nm',
    });
  }
  const values = Array.from(reflectance, (value, i) =>
    checkNumber(`reflectance[${i}]`, value, { min: 0, max: 1 }),
  );
  return colourOfXyz(xyzOf(values));
}

/** Tristimulus values of a spectrum already checked. */
export function xyzOf(reflectance: ArrayLike<number>, { x, y, z }: Weights = spectralWeights): Xyz {
  let [X, Y, Z] = [0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const r = reflectance[i] ?? NaN;
    X += r * (x[i] ?? NaN);
    Y += r * (y[i] ?? NaN);
    Z += r * (z[i] ?? NaN);
  }
  return { X, Y, Z };
}

export function colourOfXyz(xyz: Xyz): Colour {
  const lab = xyzToLab(xyz.X, xyz.Y, xyz.Z);
  const { srgb, inGamut } = xyzToSrgb(xyz);
  return { xyz, lab, lch: labToLch(lab), srgb, inGamut };
}
