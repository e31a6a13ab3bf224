import { checkName } from '../check.ts';
import { checkVoidFraction } from './check-stack.ts';
import type { OpticalIndex } from './constant-set.ts';
import type { ConstantSetName } from './constant-sets.ts';
import { type EffectiveMedium, mixedIndex } from './effective-medium.ts';
import { resolveIndex } from './resolve-index.ts';

/**
 * The complex index of an oxide with spherical pores filled with air, at the 81 wavelengths 380 to 780 nm by
 * 5 nm.
 *
 * `host`: a constant set by name, or an index of 81 n and 81 k; `voidFraction` from 0 (dense) to 1 (air).
 * Bruggeman treats oxide and void alike and is the usual choice for porous anodic oxides; Maxwell-Garnett
 * takes voids as few and apart. Straight pores make a film that depends on direction, which neither
 * describes.
 * Source: D. A. G. Bruggeman (1935); J. C. Maxwell Garnett (1904); use for anodic alumina: Rahman et al.,
 * Nanoscale Res. Lett. 7, 474 (2012).
 * Errors: `unknown` for a name or model, `malformed` for an index of another length, `not-finite` or
 * `out-of-range`.
 *
 * @example
 * const porous = effectiveIndex({ host: 'Fe3O4_estimate', voidFraction: 0.3, model: 'bruggeman' });
 * [porous.n[34], porous.k[34]] // [1.97626, 0.44202]
 */
export function effectiveIndex(input: {
  host: ConstantSetName | OpticalIndex;
  voidFraction: number;
  model: EffectiveMedium;
}): OpticalIndex {
  const host = resolveIndex('host', input.host);
  const voidFraction = checkVoidFraction('voidFraction', input.voidFraction);
  return mixedIndex(host, voidFraction, checkName('model', input.model, ['bruggeman', 'maxwell-garnett']));
}
