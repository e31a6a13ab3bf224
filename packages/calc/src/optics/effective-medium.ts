import { add, type Complex, divide, multiply, scale, squareRoot, subtract } from './complex.ts';
import type { OpticalIndex } from './constant-set.ts';

/** Relation of pore and oxide: alike in a mixture, or spheres of void kept apart by oxide. */
export type EffectiveMedium = 'bruggeman' | 'maxwell-garnett';

const VOID: Complex = { re: 1, im: 0 };

/** Mixes void into an oxide, wavelength by wavelength. */
export function mixedIndex(host: OpticalIndex, voidFraction: number, model: EffectiveMedium): OpticalIndex {
  const mix = model === 'bruggeman' ? bruggeman : maxwellGarnett;
  const mixed = host.n.map((n, i) => {
    const index = { re: n, im: host.k[i] ?? NaN };
    return squareRoot(mix(multiply(index, index), voidFraction));
  });
  return { n: mixed.map(({ re }) => re), k: mixed.map(({ im }) => Math.max(0, im)) };
}

/**
 * D. A. G. Bruggeman, Ann. Phys. 416, 636 (1935), spheres: 2 e² - b e - e_h e_v = 0. Of its roots one absorbs
 * like the oxide, within the bounds of Wiener (1912); the other amplifies or, in a clear oxide, is negative.
 */
function bruggeman(host: Complex, f: number): Complex {
  const b = add(scale(3 * (1 - f) - 1, host), scale(3 * f - 1, VOID));
  const root = squareRoot(add(multiply(b, b), scale(8, multiply(host, VOID))));
  const [one, other] = [scale(1 / 4, add(b, root)), scale(1 / 4, subtract(b, root))];
  if (one.im === other.im) return one.re > other.re ? one : other;
  return one.im > other.im ? one : other;
}

/** J. C. Maxwell Garnett, Phil. Trans. R. Soc. A 203, 385 (1904), spherical voids in the oxide. */
function maxwellGarnett(host: Complex, f: number): Complex {
  const contrast = divide(subtract(VOID, host), add(VOID, scale(2, host)));
  return multiply(host, divide(add(VOID, scale(2 * f, contrast)), subtract(VOID, scale(f, contrast))));
}
