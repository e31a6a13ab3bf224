import { checkNumber } from '../check.ts';

/**
 * Voltage lost in the liquid between work and counter electrode: density times gap over conductivity, for parallel faces.
 *
 * It is a large share of a 2 to 3 V cell: uneven spacing shows as uneven colour. Where the field spreads beyond the faces
 * the drop is less. Units: A/m2 (0 or more), m, S/m. Source: Ohm's law. Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * ohmicDrop({ currentDensityAPerM2: 1000, gapM: 0.05, conductivitySPerM: 82 }) // { dropV: 0.609756 }
 */
export function ohmicDrop(input: { currentDensityAPerM2: number; gapM: number; conductivitySPerM: number }): {
  dropV: number;
} {
  const density = checkNumber('currentDensityAPerM2', input.currentDensityAPerM2, { min: 0 });
  const gapM = checkNumber('gapM', input.gapM, { above: 0, max: 10 });
  const conductivity = checkNumber('conductivitySPerM', input.conductivitySPerM, { above: 0, max: 1000 });
  return { dropV: (density * gapM) / conductivity };
}
