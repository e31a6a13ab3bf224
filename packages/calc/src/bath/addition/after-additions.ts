import { checkNumber } from '../../check.ts';
import { checkFraction, checkTemperature } from '../inputs.ts';
import { liquidDensity } from '../liquid-density.ts';
import { checkSolute, type Solute } from '../solutes.ts';
import { checkStrength } from '../strength.ts';

export interface BathMove {
  action: 'decant' | 'add-water' | 'add-stock';
  kg: number;
  /** Of the bath's solute in what is added, default 0; of a decant that of the bath. */
  massFraction?: number;
}

/**
 * How a bath should stand after what was really taken out and put in, one after the other. `dilution` is what becomes
 * of anything else that was dissolved in it, carbonate or metal: its g/L afterwards over its g/L before.
 *
 * Valid for volumes from 0, strengths of {@link density}; a move that takes more than stands there is refused.
 * Source: mass balance of solute and water, V = m/rho(w, t).
 * Errors: `unknown` solute, `out-of-range` or `not-finite`.
 *
 * @example
 * bathAfterAdditions({
 *   solute: 'KOH',
 *   volumeL: 400,
 *   massFraction: 0.47,
 *   temperatureC: 60,
 *   moves: [{ action: 'add-stock', kg: 43.4823, massFraction: 0.9 }],
 * })
 * // { kg: 623.246, volumeL: 419.779, massFraction: 0.5, dilution: 0.952883 }
 */
export function bathAfterAdditions(input: {
  solute: Solute;
  volumeL: number;
  massFraction: number;
  temperatureC: number;
  /** How many times as heavy as the solute's own solution the bath is, by its sample; default 1. */
  densityRatio?: number;
  moves: readonly BathMove[];
}): { kg: number; volumeL: number; massFraction: number; dilution: number } {
  const solute = checkSolute(input.solute);
  const before = checkNumber('volumeL', input.volumeL, { min: 0, max: 1e6 });
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  const found = checkStrength('massFraction', input.massFraction, solute);
  const densityRatio = checkNumber('densityRatio', input.densityRatio ?? 1, { min: 0.8, max: 1.3 });
  const kgPerM3 = (massFraction: number) =>
    densityRatio * liquidDensity({ solute, massFraction, temperatureC });
  let kg = (before * kgPerM3(found)) / 1000;
  let soluteKg = kg * found;
  let kept = 1;
  input.moves.forEach((move, index) => {
    const amount = checkNumber(`moves.${index}.kg`, move.kg, {
      min: 0,
      max: move.action === 'decant' ? kg : 1e6,
    });
    if (move.action === 'decant') {
      const share = kg === 0 ? 1 : 1 - amount / kg;
      [kg, soluteKg, kept] = [kg * share, soluteKg * share, kept * share];
    } else {
      const massFraction = checkFraction(`moves.${index}.massFraction`, move.massFraction ?? 0);
      [kg, soluteKg] = [kg + amount, soluteKg + amount * massFraction];
    }
  });
  const massFraction = checkStrength('moves', kg === 0 ? 0 : soluteKg / kg, solute);
  const volumeL = (1000 * kg) / kgPerM3(massFraction);
  return { kg, volumeL, massFraction, dilution: volumeL === 0 ? 0 : (kept * before) / volumeL };
}
