import { cie1931Observer } from './data/cie-1931-2deg.ts';
import { cie1964Observer } from './data/cie-1964-10deg.ts';
import { illuminantA } from './data/illuminant-a.ts';
import { illuminantD50 } from './data/illuminant-d50.ts';
import { illuminantD65 } from './data/illuminant-d65.ts';
import type { Xyz } from './colour-types.ts';

/** Illuminants and standard observers that spectra can be integrated under. */
const illuminants = { D65: illuminantD65, D50: illuminantD50, A: illuminantA };
const observers = { 2: cie1931Observer, 10: cie1964Observer };
export type SpectralIlluminant = keyof typeof illuminants;
export type SpectralObserver = keyof typeof observers;
export interface Viewing {
  illuminant: SpectralIlluminant;
  observerDeg: SpectralObserver;
}
export type Weights = Record<'x' | 'y' | 'z', Float64Array>;

/** The wavelengths of every spectrum in this package: 380 to 780 nm by 5 nm. */
export const wavelengthsNm: readonly number[] = illuminantD65.map((_, i) => 380 + 5 * i);

/**
 * k S(λ) x̄(λ) and the like: a spectrum's tristimulus values are its plain sums with these (CIE 15, no end
 * correction).
 */
export const spectralWeights = weightsOf(illuminantD65, cie1931Observer);

/** The weights of another light and observer, with the white that CIELAB refers to under them. */
export function weightsUnder({ illuminant, observerDeg }: Viewing): { weights: Weights; white: Xyz } {
  const weights = weightsOf(illuminants[illuminant], observers[observerDeg]);
  return { weights, white: { X: total(weights.x), Y: total(weights.y), Z: total(weights.z) } };
}

function weightsOf(
  illuminant: readonly number[],
  observer: Record<'xbar' | 'ybar' | 'zbar', readonly number[]>,
): Weights {
  const lit = (matching: readonly number[]) => matching.map((value, i) => value * (illuminant[i] ?? NaN));
  const scale = 100 / total(lit(observer.ybar));
  const weights = (matching: readonly number[]) => Float64Array.from(lit(matching), (value) => scale * value);
  return { x: weights(observer.xbar), y: weights(observer.ybar), z: weights(observer.zbar) };
}

/**
 * Tristimulus values of the perfect reflector: the white that CIELAB refers to. About 95.043, 100, 108.880.
 */
export const whiteXyz = {
  X: total(spectralWeights.x),
  Y: total(spectralWeights.y),
  Z: total(spectralWeights.z),
};

function total(values: Iterable<number>): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}
