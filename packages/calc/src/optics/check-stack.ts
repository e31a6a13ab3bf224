import { checkNumber } from '../check.ts';
import { wavelengthsNm } from '../colour/spectral-weights.ts';
import { CalcError } from '../errors.ts';
import type { OpticalIndex } from './constant-set.ts';

/** Beyond this the fringes are finer than the 5 nm samples; nothing thinner than paint is left to model. */
const THICKEST_NM = 10_000;

export const checkThickness = (argument: string, value: number): number =>
  checkNumber(argument, value, { min: 0, max: THICKEST_NM });

export const checkAngle = (value: number): number => checkNumber('angleDeg', value, { min: 0, below: 90 });

export const checkVoidFraction = (argument: string, value: number): number =>
  checkNumber(argument, value, { min: 0, max: 1 });

/** Refuses an index that is not 81 values of n above 0 and k from 0. */
export function checkIndex<T extends OpticalIndex>(argument: string, index: T): T {
  for (const part of ['n', 'k'] as const) {
    if (index[part].length !== wavelengthsNm.length) {
      throw new CalcError({
        code: 'malformed',
        argument: `${argument}.${part}`,
        given: `a list of ${index[part].length}`,
        allowed: 'a list of 81 values, 380 to 780 nm by 5 nm',
      });
    }
  }
  index.n.forEach((value, i) => checkNumber(`${argument}.n[${i}]`, value, { above: 0, max: 20 }));
  index.k.forEach((value, i) => checkNumber(`${argument}.k[${i}]`, value, { min: 0, max: 20 }));
  return index;
}
