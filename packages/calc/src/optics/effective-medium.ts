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

/** D. A. G. Bruggeman, Ann. Phys. 416, 636 (1935), spheres: the root of 2 e² - b e - e_h e_v = 0 that absorbs. */
function bruggeman(host: Complex, f: number): Complex {
  const b = add(scale(3 * (1 - f) - 1, host), scale(3 * f - 1, VOID));
  const root = squareRoot(add(multiply(b, b), scale(8, multiply(host, VOID))));
  return scale(1 / 4, add(b, root));
}

/** J. C. Maxwell Garnett, Phil. Trans. R. Soc. A 203, 385 (1904), spherical voids in the oxide. */
function maxwellGarnett(host: Complex, f: number): Complex {
  const contrast = divide(subtract(VOID, host), add(VOID, scale(2, host)));
  return multiply(host, divide(add(VOID, scale(2 * f, contrast)), subtract(VOID, scale(f, contrast))));
}
