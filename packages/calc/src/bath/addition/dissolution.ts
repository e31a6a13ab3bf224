import { checkNumber } from '../../check.ts';
import { heatCapacity } from '../../heat/heat-capacity.ts';
import { heatOfSolution } from '../data/heat-of-solution.ts';
import { molarMass } from '../data/molar-masses.ts';
import { checkFraction, checkTemperature } from '../inputs.ts';
import { interpolate } from '../interpolate.ts';
import { checkSolute, type Solute } from '../solutes.ts';

export interface Dissolution {
  /** Heat given off, kJ; null when none is on file for the solute. */
  kJ: number | null;
  /** Rise of the bath's temperature, with everything else at the bath's temperature and nothing lost. */
  riseK: number | null;
  flags: string[];
}

/**
 * Heat and temperature rise when a stock is mixed into a bath, on the safe side: the heat of infinite dilution,
 * less what a liquid stock has given off already, nothing lost to the tank or the air, cold stock and water not
 * credited. In strong baths the true rise is about a third smaller.
 *
 * KOH, NaOH and H2SO4; null and flagged for the others. Masses from 0, mass fractions 0 to 1, temperatureC -20 to
 * 200; flagged as {@link heatCapacity}.
 * Source: Parker 1965 for the caustics, textbook values from memory for the acid; dT = Q/((m + x) cp(w*, t)).
 * Errors: `unknown` solute, `out-of-range` or `not-finite`.
 *
 * @example
 * dissolution({
 *   solute: 'KOH',
 *   stock: { form: 'solid', massFraction: 0.9 },
 *   stockKg: 10,
 *   bath: { kg: 1000, massFraction: 0.45, temperatureC: 60 },
 * })
 * // { kJ: 9241.32, riseK: 3.45062 }
 */
export function dissolution(given: {
  solute: Solute;
  stock: { form: 'solid' | 'liquid'; massFraction: number };
  stockKg: number;
  waterKg?: number;
  bath: { kg: number; massFraction: number; temperatureC: number };
}): Dissolution {
  const solute = checkSolute(given.solute);
  const strength = checkFraction('stock.massFraction', given.stock.massFraction);
  const stockKg = checkNumber('stockKg', given.stockKg, { min: 0 });
  const waterKg = checkNumber('waterKg', given.waterKg ?? 0, { min: 0 });
  const bathKg = checkNumber('bath.kg', given.bath.kg, { min: 0 });
  const before = checkFraction('bath.massFraction', given.bath.massFraction);
  const temperatureC = checkTemperature('bath.temperatureC', given.bath.temperatureC);
  const table = heatOfSolution[solute];
  if (!table) return { kJ: null, riseK: null, flags: [`no heat of solution of ${solute} on file`] };

  const waterPerMol = ((1 - strength) / molarMass.H2O) * (molarMass[solute] / strength);
  const alreadyGiven = given.stock.form === 'liquid' ? interpolate(table.given, waterPerMol) : 0;
  const kJ =
    stockKg === 0 || strength === 0
      ? 0
      : ((1000 * stockKg * strength) / molarMass[solute]) * (table.infinite - alreadyGiven);
  const totalKg = bathKg + stockKg + waterKg;
  if (totalKg === 0) return { kJ, riseK: 0, flags: [] };
  const massFraction = Math.min(1, (bathKg * before + stockKg * strength) / totalKg);
  const { jPerKgK, flags } = heatCapacity({ solute, massFraction, temperatureC });
  return { kJ, riseK: (1000 * kJ) / (totalKg * jPerKgK), flags };
}
