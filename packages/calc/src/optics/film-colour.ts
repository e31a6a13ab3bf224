import type { Colour } from '../colour/colour-types.ts';
import { flagsOfMetal } from './metal-flags.ts';
import { modelOf } from './model-of.ts';
import { resolveSystem, type System } from './resolve-system.ts';
import type { FilmSystem } from './systems.ts';

export interface FilmColour extends Colour {
  /** 0 to 1, at the 81 wavelengths 380 to 780 nm by 5 nm. */
  reflectance: number[];
  /** What the figure does not cover. */
  flags: string[];
}

/**
 * The colour of one oxide film on its metal under D65, 2 degree observer, specular reflection included, by
 * the physics of thin films. A nominal guide: the shop's own coupons decide.
 *
 * `thicknessNm` from 0 to 10,000; `angleDeg` in air, 0 to below 90; `voidFraction` of pores, 0 to 1
 * (Bruggeman). Constants of another source move the colour by 10 dE00 and more at the same thickness, so the
 * answer belongs to the set that is named.
 * Source: Airy's sum (Born and Wolf, 7th ed., 1999) on published constants; CIE 15:2004.
 * Errors: `unknown` for a system or set, `impossible` for sets in the wrong role, `not-finite` or
 * `out-of-range`.
 *
 * @example
 * filmColour({ system: 'titanium', thicknessNm: 50 })
 * // { lab: { L: 42.9052, a: 9.1448, b: -42.1213 }, srgb: { r: 60, g: 100, b: 171, hex: '#3c64ab' }, inGamut: true, flags: [] }
 */
export function filmColour(input: {
  system: System;
  thicknessNm: number;
  angleDeg?: number;
  voidFraction?: number;
}): FilmColour {
  const system = resolveSystem(input.system);
  const model = modelOf({ ...system, angleDeg: input.angleDeg ?? 0, voidFraction: input.voidFraction ?? 0 });
  const { reflectance, xyz, lab, lch, srgb, inGamut } = model.colourAt(input.thicknessNm);
  return { reflectance, xyz, lab, lch, srgb, inGamut, flags: flagsOf(system, input.thicknessNm) };
}

const flagsOf = ({ substrate }: FilmSystem, thicknessNm: number): string[] => [
  ...flagsOfMetal(substrate.material),
  ...(thicknessNm > 400 ? ['the 5 nm steps of the spectrum are checked for films up to 400 nm'] : []),
];
