import { checkNumber } from '../check.ts';
import { checkTemperature } from './inputs.ts';
import { densityFlags, liquidDensity } from './liquid-density.ts';
import { checkSolute, type Solute } from './solutes.ts';
import { checkStrength } from './strength.ts';

/**
 * Liquid carried out by a load, and what of it is solute and what water: both are lost and both must be booked.
 *
 * `filmMlPerM2` (0 to 5000) is the film on the wetted area: take it from {@link dragOutFilms} or better from
 * {@link dragOutFromUse}. Viscous liquors drag more. Flagged as {@link density}.
 * Source: litres = film x area; split by the mass fraction.
 * Errors: `unknown` solute; `out-of-range` or `not-finite` for the numbers.
 *
 * @example
 * dragOut({ areaM2: 12, filmMlPerM2: 120, solute: 'KOH', massFraction: 0.5, temperatureC: 60 })
 * // { litres: 1.44, soluteKg: 1.06899, waterKg: 1.06899 }
 */
export function dragOut(input: {
  areaM2: number;
  filmMlPerM2: number;
  solute: Solute;
  massFraction: number;
  temperatureC: number;
}): { litres: number; soluteKg: number; waterKg: number; flags: string[] } {
  const areaM2 = checkNumber('areaM2', input.areaM2, { min: 0 });
  const film = checkNumber('filmMlPerM2', input.filmMlPerM2, { min: 0, max: 5000 });
  const solute = checkSolute(input.solute);
  const liquid = {
    solute,
    massFraction: checkStrength('massFraction', input.massFraction, solute),
    temperatureC: checkTemperature('temperatureC', input.temperatureC),
  };
  const litres = (areaM2 * film) / 1000;
  const kg = (litres * liquidDensity(liquid)) / 1000;
  const soluteKg = kg * liquid.massFraction;
  return { litres, soluteKg, waterKg: kg - soluteKg, flags: densityFlags(liquid) };
}

/**
 * Drag-out measured from the stores: litres of bath that a month's additions of a solute have replaced. Subtract
 * what left otherwise first: caustic turned to carbonate, baths dumped.
 *
 * Valid for gramsPerLitre above 0 to 2000, other losses up to what was added.
 * Source: mass balance.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * dragOutFromUse({ addedKg: 453.592, gramsPerLitre: 149.783 }) // { litres: 3028.33 }
 */
export function dragOutFromUse(input: { addedKg: number; lostOtherwiseKg?: number; gramsPerLitre: number }): {
  litres: number;
} {
  const addedKg = checkNumber('addedKg', input.addedKg, { min: 0 });
  const lostOtherwiseKg = checkNumber('lostOtherwiseKg', input.lostOtherwiseKg ?? 0, {
    min: 0,
    max: addedKg,
  });
  const gramsPerLitre = checkNumber('gramsPerLitre', input.gramsPerLitre, { above: 0, max: 2000 });
  return { litres: (1000 * (addedKg - lostOtherwiseKg)) / gramsPerLitre };
}
