import type { Lab, OpticalIndex } from '../src/index.ts';

/**
 * The textbook route from a film to its colour, written as one would write it first: complex numbers as objects, the
 * Fresnel coefficients at every wavelength of every call, a pass each for X, Y and Z. The measure for the fast route.
 */
interface Complex {
  re: number;
  im: number;
}

const add = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im });
const minus = (a: Complex, b: Complex): Complex => ({ re: a.re - b.re, im: a.im - b.im });
const times = (a: Complex, b: Complex): Complex => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});
const over = (a: Complex, b: Complex): Complex => {
  const square = b.re ** 2 + b.im ** 2;
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square };
};
const exponential = (a: Complex): Complex => ({
  re: Math.exp(a.re) * Math.cos(a.im),
  im: Math.exp(a.re) * Math.sin(a.im),
});

const AIR: Complex = { re: 1, im: 0 };
const ONE: Complex = { re: 1, im: 0 };

const fresnel = (above: Complex, below: Complex): Complex => over(minus(above, below), add(above, below));

function reflectance({ film, metal, thicknessNm, wavelengthNm }: Layer): number {
  const twiceBeta = times({ re: (4 * Math.PI * thicknessNm) / wavelengthNm, im: 0 }, film);
  const phase = exponential(times({ re: 0, im: 1 }, twiceBeta));
  const r01 = fresnel(AIR, film);
  const r12 = times(fresnel(film, metal), phase);
  const r = over(add(r01, r12), add(ONE, times(r01, r12)));
  return r.re ** 2 + r.im ** 2;
}

interface Layer {
  film: Complex;
  metal: Complex;
  thicknessNm: number;
  wavelengthNm: number;
}

export interface PlainTables {
  wavelengthsNm: readonly number[];
  /** Illuminant times colour-matching function. */
  weights: Record<'X' | 'Y' | 'Z', readonly number[]>;
}

export function plainFilmLab(given: {
  film: OpticalIndex;
  substrate: OpticalIndex;
  thicknessNm: number;
  tables: PlainTables;
}): Lab {
  const { film, substrate, thicknessNm, tables } = given;
  const spectrum = tables.wavelengthsNm.map((wavelengthNm, i) =>
    reflectance({
      film: { re: film.n[i] ?? NaN, im: film.k[i] ?? NaN },
      metal: { re: substrate.n[i] ?? NaN, im: substrate.k[i] ?? NaN },
      thicknessNm,
      wavelengthNm,
    }),
  );
  const sum = (weights: readonly number[], factor: readonly number[] | null) =>
    weights.reduce((total, weight, i) => total + weight * (factor?.[i] ?? 1), 0);
  const relative = (name: 'X' | 'Y' | 'Z') =>
    sum(tables.weights[name], spectrum) / sum(tables.weights[name], null);
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const [x, y, z] = [f(relative('X')), f(relative('Y')), f(relative('Z'))];
  return { L: 116 * y - 16, a: 500 * (x - y), b: 200 * (y - z) };
}
