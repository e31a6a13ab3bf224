import { checkName } from '../check.ts';
import { wavelengthsNm } from '../colour/spectral-weights.ts';
import { type Admittances, admittances, indexAt, type LinearPolarisation, reflection } from './admittance.ts';
import { checkAngle, checkThickness, checkVoidFraction } from './check-stack.ts';
import { add, type Complex, divide, multiply } from './complex.ts';
import type { OpticalIndex } from './constant-set.ts';
import type { ConstantSetName } from './constant-sets.ts';
import { mixedIndex } from './effective-medium.ts';
import { resolveIndex } from './resolve-index.ts';

/** One film of a stack. */
export interface FilmLayer {
  material: ConstantSetName | OpticalIndex;
  thicknessNm: number;
  /** Share of spherical pores, 0 to 1, mixed in by Bruggeman's rule; 0 unless given. */
  voidFraction?: number;
}

export type Polarisation = LinearPolarisation | 'mean';

/**
 * Spectral reflectance, 0 to 1, of any stack of films on a substrate in air, at the 81 wavelengths 380 to 780
 * nm by 5 nm. Films and substrate may absorb.
 *
 * `layers` from the air inward, possibly none, each 0 to 10,000 nm; `angleDeg` in air, 0 to below 90;
 * `polarisation` s, p or mean. Surfaces are taken as smooth and films as uniform: a blasted or etched metal
 * is darker and duller.
 * Source: recursion over the layers, M. Born and E. Wolf, Principles of Optics, 7th ed. (1999), section 1.6.
 * Errors: `unknown` for a material or polarisation, `malformed` for an index of another length, `not-finite`
 * or `out-of-range`.
 *
 * @example
 * const bronze = filmReflectance({
 *   layers: [{ material: 'TiO2_Franta2015', thicknessNm: 30 }],
 *   substrate: 'Ti_Johnson1974',
 * });
 * [bronze[14], bronze[34], bronze[54]] // [0.02534, 0.175798, 0.333047]
 */
export function filmReflectance(input: {
  layers: readonly FilmLayer[];
  substrate: ConstantSetName | OpticalIndex;
  angleDeg?: number;
  polarisation?: Polarisation;
}): number[] {
  const layers = input.layers.map((layer, i) => resolveLayer(`layers[${i}]`, layer));
  const substrate = resolveIndex('substrate', input.substrate);
  const angleDeg = checkAngle(input.angleDeg ?? 0);
  const polarisation = checkName('polarisation', input.polarisation ?? 'mean', ['s', 'p', 'mean']);
  const sin2 = Math.sin((angleDeg * Math.PI) / 180) ** 2;
  const air = admittances({ re: 1, im: 0 }, sin2);

  return wavelengthsNm.map((wavelengthNm, i) => {
    const films = layers.map(({ index, thicknessNm }) => ({
      thicknessNm,
      admittance: admittances(indexAt(index, i), sin2),
    }));
    const stack = { wavelengthNm, air, films, substrate: admittances(indexAt(substrate, i), sin2) };
    if (polarisation !== 'mean') return stackReflectance(stack, polarisation);
    return (stackReflectance(stack, 's') + stackReflectance(stack, 'p')) / 2;
  });
}

function resolveLayer(argument: string, layer: FilmLayer): { index: OpticalIndex; thicknessNm: number } {
  const dense = resolveIndex(`${argument}.material`, layer.material);
  const thicknessNm = checkThickness(`${argument}.thicknessNm`, layer.thicknessNm);
  const voidFraction = checkVoidFraction(`${argument}.voidFraction`, layer.voidFraction ?? 0);
  return { index: voidFraction === 0 ? dense : mixedIndex(dense, voidFraction, 'bruggeman'), thicknessNm };
}

interface Stack {
  wavelengthNm: number;
  air: Admittances;
  films: readonly { thicknessNm: number; admittance: Admittances }[];
  substrate: Admittances;
}

/** From the metal up: each film adds its own top face to what it passes back from below. */
function stackReflectance(
  { wavelengthNm, air, films, substrate }: Stack,
  polarisation: LinearPolarisation,
): number {
  let below = substrate;
  let passedBack: Complex | null = null;
  for (const film of films.toReversed()) {
    const face: Complex = reflection(film.admittance[polarisation], below[polarisation]);
    const amplitude: Complex = passedBack ? joined(face, passedBack) : face;
    passedBack = multiply(amplitude, returnTrip(film, wavelengthNm));
    below = film.admittance;
  }
  const face = reflection(air[polarisation], below[polarisation]);
  const { re, im } = passedBack ? joined(face, passedBack) : face;
  return Math.min(1, re * re + im * im);
}

/** (r + e) / (1 + r e): a face and what comes back from beneath it, all echoes summed. */
const joined = (face: Complex, beneath: Complex): Complex =>
  divide(add(face, beneath), add({ re: 1, im: 0 }, multiply(face, beneath)));

/** exp(2iβ) */
function returnTrip(film: Stack['films'][number], wavelengthNm: number): Complex {
  const perIndex = (4 * Math.PI * film.thicknessNm) / wavelengthNm;
  const amplitude = Math.exp(-perIndex * film.admittance.q.im);
  const phase = perIndex * film.admittance.q.re;
  return { re: amplitude * Math.cos(phase), im: amplitude * Math.sin(phase) };
}
