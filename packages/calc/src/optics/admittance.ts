import { add, type Complex, divide, squareRoot, subtract } from './complex.ts';
import type { OpticalIndex } from './constant-set.ts';

export type LinearPolarisation = 's' | 'p';

export interface Admittances extends Record<LinearPolarisation, Complex> {
  /** N cos θ: the share of the index that counts for phase. */
  readonly q: Complex;
}

/** Stands in for N cos θ = 0, a wave that runs exactly along the layer, so that results stay finite. */
const GRAZING: Complex = { re: 1e-9, im: 0 };

/** q = N cos θ = sqrt(N² - sin² θ0), q itself for s, N²/q for p; `sin2` is sin² θ0 in air. */
export function admittances(index: Complex, sin2: number): Admittances {
  const square = { re: index.re ** 2 - index.im ** 2, im: 2 * index.re * index.im };
  const root = squareRoot({ re: square.re - sin2, im: square.im });
  const q = root.re === 0 && root.im === 0 ? GRAZING : root;
  return { q, s: q, p: divide(square, q) };
}

/** N = n + i k at one of the 81 wavelengths. */
export const indexAt = (index: OpticalIndex, i: number): Complex => ({
  re: index.n[i] ?? NaN,
  im: index.k[i] ?? NaN,
});

/** Amplitude reflected where admittance changes. */
export const reflection = (from: Complex, into: Complex): Complex =>
  divide(subtract(from, into), add(from, into));
