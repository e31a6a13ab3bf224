import type { Colour, Lab, Xyz } from '../colour/colour-types.ts';
import { colourOfXyz, xyzOf } from '../colour/from-reflectance.ts';
import { xyzToLab } from '../colour/lab.ts';
import { wavelengthsNm } from '../colour/spectral-weights.ts';
import { admittances, indexAt, type LinearPolarisation, reflection } from './admittance.ts';
import { checkAngle, checkIndex, checkThickness, checkVoidFraction } from './check-stack.ts';
import type { Complex } from './complex.ts';
import type { OpticalIndex } from './constant-set.ts';
import { mixedIndex } from './effective-medium.ts';

/** One film on one metal at one angle, ready for any thickness. */
export interface FilmModel {
  xyzAt: (thicknessNm: number) => Xyz;
  labAt: (thicknessNm: number) => Lab;
  /**
   * How many half-waves of green light (550 nm) lie in the film: colours come round about once each. The
   * order of a colour is the whole part plus 1.
   */
  halfWavesAt: (thicknessNm: number) => number;
  /**
   * The colour in every form, and the reflectance, 0 to 1, at the 81 wavelengths; mean of both polarisations.
   */
  colourAt: (thicknessNm: number) => Colour & { reflectance: number[] };
}

/**
 * Prepares everything about a film on a metal that does not depend on thickness, so that each further
 * thickness costs one sine, cosine and product a wavelength: some 100,000 colours a second. For colour strips
 * and searches; `filmColour` is the same physics for a single colour by name. Works on the constants it is
 * handed and so ships no others.
 *
 * `film`, `substrate`: complex indices at the 81 wavelengths; `angleDeg` in air, 0 to below 90;
 * `voidFraction` of spherical pores (Bruggeman), 0 to 1. The functions returned take a thickness of 0 to
 * 10,000 nm.
 * Source: Airy's sum for one film, M. Born and E. Wolf, Principles of Optics, 7th ed. (1999), sections 1.6
 * and 14.4.
 * Errors: `malformed`, `not-finite` or `out-of-range` for an index, angle, void fraction or thickness.
 *
 * @example
 * filmModel(titaniumSystem).labAt(50) // { L: 42.9052, a: 9.1448, b: -42.1213 }
 */
export function filmModel(input: {
  film: OpticalIndex;
  substrate: OpticalIndex;
  angleDeg?: number;
  voidFraction?: number;
}): FilmModel {
  const dense = checkIndex('film', input.film);
  const substrate = checkIndex('substrate', input.substrate);
  const angleDeg = checkAngle(input.angleDeg ?? 0);
  const voidFraction = checkVoidFraction('voidFraction', input.voidFraction ?? 0);
  const film = voidFraction === 0 ? dense : mixedIndex(dense, voidFraction, 'bruggeman');
  const optics = filmOptics({ film, substrate, angleDeg });
  const spectrum = new Float64Array(wavelengthsNm.length);

  const xyzAt = (thicknessNm: number): Xyz => {
    fillSpectrum(spectrum, optics, checkThickness('thicknessNm', thicknessNm));
    return xyzOf(spectrum);
  };
  return {
    xyzAt,
    labAt(thicknessNm) {
      const { X, Y, Z } = xyzAt(thicknessNm);
      return xyzToLab(X, Y, Z);
    },
    halfWavesAt: (thicknessNm) => (at(optics.phasePerNm, GREEN) * thicknessNm) / (2 * Math.PI),
    colourAt(thicknessNm) {
      const { xyz, lab, lch, srgb, inGamut } = colourOfXyz(xyzAt(thicknessNm));
      return { reflectance: listOf(spectrum), xyz, lab, lch, srgb, inGamut };
    },
  };
}

/** Place of 550 nm among the wavelengths. */
const GREEN = wavelengthsNm.indexOf(550);

interface FilmOptics {
  /**
   * Phase and natural logarithm of amplitude that a return trip through 1 nm of film adds, each wavelength.
   */
  phasePerNm: Float64Array;
  decayPerNm: Float64Array;
  /** One table a polarisation, `TERMS` numbers a wavelength. */
  interfaces: readonly Float64Array[];
}

/** |r01|², |r12|², real and imaginary part of r01* r12, real and imaginary part of r01 r12. */
const TERMS = 6;

function filmOptics(stack: { film: OpticalIndex; substrate: OpticalIndex; angleDeg: number }): FilmOptics {
  const count = wavelengthsNm.length;
  const phasePerNm = new Float64Array(count);
  const decayPerNm = new Float64Array(count);
  const polarisations: LinearPolarisation[] = stack.angleDeg === 0 ? ['s'] : ['s', 'p'];
  const interfaces = polarisations.map(() => new Float64Array(TERMS * count));
  const sin2 = Math.sin((stack.angleDeg * Math.PI) / 180) ** 2;
  const air = admittances({ re: 1, im: 0 }, sin2);

  for (const [i, wavelengthNm] of wavelengthsNm.entries()) {
    const film = admittances(indexAt(stack.film, i), sin2);
    const metal = admittances(indexAt(stack.substrate, i), sin2);
    phasePerNm[i] = (4 * Math.PI * film.q.re) / wavelengthNm;
    decayPerNm[i] = (-4 * Math.PI * film.q.im) / wavelengthNm;
    for (const [which, polarisation] of polarisations.entries()) {
      const above = reflection(air[polarisation], film[polarisation]);
      const below = reflection(film[polarisation], metal[polarisation]);
      interfaces[which]?.set(airyTerms(above, below), TERMS * i);
    }
  }
  return { phasePerNm, decayPerNm, interfaces };
}

const airyTerms = (above: Complex, below: Complex): number[] => [
  above.re ** 2 + above.im ** 2,
  below.re ** 2 + below.im ** 2,
  above.re * below.re + above.im * below.im,
  above.re * below.im - above.im * below.re,
  above.re * below.re - above.im * below.im,
  above.re * below.im + above.im * below.re,
];

/** R = |r01 + r12 e|² / |1 + r01 r12 e|² with e = exp(2iβ), multiplied out into real terms. */
function fillSpectrum(spectrum: Float64Array, optics: FilmOptics, thicknessNm: number): void {
  const { phasePerNm, decayPerNm, interfaces } = optics;
  const share = 1 / interfaces.length;
  for (let i = 0; i < spectrum.length; i++) {
    const phase = at(phasePerNm, i) * thicknessNm;
    const decay = at(decayPerNm, i) * thicknessNm;
    const amplitude = decay === 0 ? 1 : Math.exp(decay);
    const cos = 2 * amplitude * Math.cos(phase);
    const sin = 2 * amplitude * Math.sin(phase);
    const power = amplitude * amplitude;
    let reflectance = 0;
    for (const terms of interfaces) {
      const j = TERMS * i;
      const above = at(terms, j);
      const below = at(terms, j + 1) * power;
      const top = above + below + at(terms, j + 2) * cos - at(terms, j + 3) * sin;
      const bottom = 1 + above * below + at(terms, j + 4) * cos - at(terms, j + 5) * sin;
      reflectance += (share * top) / bottom;
    }
    spectrum[i] = Math.min(1, Math.max(0, reflectance));
  }
}

/** The element known to exist; NaN would surface at once in any colour. */
const at = (values: Float64Array, index: number): number => values[index] ?? NaN;

/** Several times faster than Array.from on a typed array. */
function listOf(values: Float64Array): number[] {
  const list: number[] = [];
  for (let i = 0; i < values.length; i++) list.push(at(values, i));
  return list;
}
