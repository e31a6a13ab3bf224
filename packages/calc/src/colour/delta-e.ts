import { checkNumber } from '../check.ts';
import type { Lab } from './colour-types.ts';
import { checkLab } from './lab.ts';

const RADIANS = Math.PI / 180;
const POW25_7 = 25 ** 7;

/**
 * Degrees by which a hue difference may pass 180 and still count as 180: rounding of atan2 must not pick the
 * branch.
 */
const HUE_SLACK = 1e-9;

/** Parametric factors of CIEDE2000: 1 each unless agreed otherwise; a larger one forgives more of its difference. */
export interface DeltaEFactors {
  kL: number;
  kC: number;
  kH: number;
}
const PLAIN: DeltaEFactors = { kL: 1, kC: 1, kH: 1 };

/**
 * Colour difference by CIEDE2000, with kL = kC = kH = 1 unless `factors` are agreed. About 1 is just visible side by side; 2 to 3 is a
 * common commercial tolerance. Symmetric; not a distance (it breaks the triangle rule), and made for
 * differences below about 5.
 *
 * Valid for L from 0 to 100, a and b from -200 to 200, factors from 0.1 to 10.
 * Source: ISO/CIE 11664-6:2014; G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30, 21 (2005),
 * doi:10.1002/col.20070, whose 34 pairs it meets, the pair on the 180 degree hue branch (pair 14) included.
 * Errors: `not-finite` or `out-of-range` for a component or a factor.
 *
 * @example
 * deltaE2000({ L: 50, a: 2.6772, b: -79.7751 }, { L: 50, a: 0, b: -82.7485 }) // 2.0425
 */
export function deltaE2000(first: Lab, second: Lab, factors: DeltaEFactors = PLAIN): number {
  for (const name of ['kL', 'kC', 'kH'] as const)
    checkNumber(`factors.${name}`, factors[name], { min: 0.1, max: 10 });
  return ciede2000(checkLab('first', first), checkLab('second', second), factors);
}

/**
 * Colour difference by CIE 1976: the straight distance in CIELAB. Older and cruder than {@link deltaE2000},
 * for figures that must be compared with old ones; it overrates differences between vivid colours.
 *
 * Valid for L from 0 to 100 and a and b from -200 to 200.
 * Source: ISO/CIE 11664-4:2019.
 * Errors: `not-finite` or `out-of-range` for a component.
 *
 * @example
 * deltaE76({ L: 50, a: 3, b: 0 }, { L: 50, a: 0, b: 4 }) // 5
 */
export function deltaE76(first: Lab, second: Lab): number {
  return cie76(checkLab('first', first), checkLab('second', second));
}

export const cie76 = (first: Lab, second: Lab): number =>
  Math.sqrt((first.L - second.L) ** 2 + (first.a - second.a) ** 2 + (first.b - second.b) ** 2);

/** {@link deltaE2000} for colours already checked, in the symbols of Sharma et al. */
export function ciede2000(first: Lab, second: Lab, { kL, kC, kH } = PLAIN): number {
  const cMean = (length(first.a, first.b) + length(second.a, second.b)) / 2;
  const G = 0.5 * (1 - rootOfC7(cMean));
  const a1 = (1 + G) * first.a;
  const a2 = (1 + G) * second.a;
  const c1 = length(a1, first.b);
  const c2 = length(a2, second.b);
  const h1 = hueDegrees(a1, first.b);
  const h2 = hueDegrees(a2, second.b);
  const grey = c1 * c2 === 0;

  const dL = second.L - first.L;
  const dC = c2 - c1;
  const dh = grey ? 0 : hueDifference(h1, h2);
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((dh / 2) * RADIANS);

  const meanL = (first.L + second.L) / 2;
  const meanC = (c1 + c2) / 2;
  const meanH = grey ? h1 + h2 : hueMean(h1, h2);
  const T =
    1 -
    0.17 * Math.cos((meanH - 30) * RADIANS) +
    0.24 * Math.cos(2 * meanH * RADIANS) +
    0.32 * Math.cos((3 * meanH + 6) * RADIANS) -
    0.2 * Math.cos((4 * meanH - 63) * RADIANS);
  const S_L = 1 + (0.015 * (meanL - 50) ** 2) / Math.sqrt(20 + (meanL - 50) ** 2);
  const S_C = 1 + 0.045 * meanC;
  const S_H = 1 + 0.015 * meanC * T;
  const dTheta = 30 * Math.exp(-(((meanH - 275) / 25) ** 2));
  const R_T = -2 * rootOfC7(meanC) * Math.sin(2 * dTheta * RADIANS);

  const [x, y, z] = [dL / (kL * S_L), dC / (kC * S_C), dH / (kH * S_H)];
  return Math.sqrt(Math.max(0, x * x + y * y + z * z + R_T * y * z));
}

/** Math.hypot guards against overflow that colours cannot reach, at ten times the cost. */
const length = (a: number, b: number): number => Math.sqrt(a * a + b * b);

/** sqrt(C⁷ / (C⁷ + 25⁷)) */
function rootOfC7(c: number): number {
  const c3 = c * c * c;
  const c7 = c3 * c3 * c;
  return Math.sqrt(c7 / (c7 + POW25_7));
}

function hueDegrees(a: number, b: number): number {
  if (a === 0 && b === 0) return 0;
  const degrees = Math.atan2(b, a) / RADIANS;
  return degrees < 0 ? degrees + 360 : degrees;
}

function hueDifference(h1: number, h2: number): number {
  const difference = h2 - h1;
  if (Math.abs(difference) <= 180 + HUE_SLACK) return difference;
  return difference > 0 ? difference - 360 : difference + 360;
}

function hueMean(h1: number, h2: number): number {
  const sum = h1 + h2;
  if (Math.abs(h1 - h2) <= 180 + HUE_SLACK) return sum / 2;
  return sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
}
