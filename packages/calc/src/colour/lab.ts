import { checkNumber } from '../check.ts';
import type { Lab, Lch, Xyz } from './colour-types.ts';
import { whiteXyz } from './spectral-weights.ts';

/**
 * CIE 15:2004 in exact fractions: where the cube root gives way to a straight line, and the slope of that
 * line.
 */
const EPSILON = 216 / 24389;
const KAPPA = 24389 / 27;

const compress = (t: number): number => (t > EPSILON ? Math.cbrt(t) : (KAPPA * t + 16) / 116);
const expand = (f: number): number => (f ** 3 > EPSILON ? f ** 3 : (116 * f - 16) / KAPPA);

/** Of tristimulus values as shares of those of the white. */
function labOfShares(x: number, y: number, z: number): Lab {
  const fy = compress(y);
  return { L: 116 * fy - 16, a: 500 * (compress(x) - fy), b: 200 * (fy - compress(z)) };
}

export const xyzToLab = (X: number, Y: number, Z: number): Lab =>
  labOfShares(X / whiteXyz.X, Y / whiteXyz.Y, Z / whiteXyz.Z);

/** CIELAB referred to another white than that of D65 and 2 degrees. */
export const labUnder = ({ X, Y, Z }: Xyz, white: Xyz): Lab =>
  labOfShares(X / white.X, Y / white.Y, Z / white.Z);

export function labToXyz({ L, a, b }: Lab): Xyz {
  const fy = (L + 16) / 116;
  return {
    X: whiteXyz.X * expand(fy + a / 500),
    Y: whiteXyz.Y * expand(fy),
    Z: whiteXyz.Z * expand(fy - b / 200),
  };
}

export function labToLch({ L, a, b }: Lab): Lch {
  const degrees = (Math.atan2(b, a) * 180) / Math.PI;
  return { L, C: Math.sqrt(a * a + b * b), h: degrees < 0 ? degrees + 360 : degrees };
}

export function lchToLab({ L, C, h }: Lch): Lab {
  const radians = (h * Math.PI) / 180;
  return { L, a: C * Math.cos(radians), b: C * Math.sin(radians) };
}

/** Refuses a colour that no surface has: L outside 0 to 100, a or b beyond 200 either way. */
export function checkLab(argument: string, lab: Lab): Lab {
  const { L, a, b } = lab;
  // Written so that NaN fails; the names of the parts are only put together for a fault.
  if (L >= 0 && L <= 100 && Math.abs(a) <= 200 && Math.abs(b) <= 200) return lab;
  return {
    L: checkNumber(`${argument}.L`, L, { min: 0, max: 100 }),
    a: checkNumber(`${argument}.a`, a, { min: -200, max: 200 }),
    b: checkNumber(`${argument}.b`, b, { min: -200, max: 200 }),
  };
}
