import { checkNumber } from '../../check.ts';
import { heatCapacity } from '../../heat/heat-capacity.ts';
import { heatOfSolution, integralHeat } from '../data/heat-of-solution.ts';
import { molarMass } from '../data/molar-masses.ts';
import { checkFraction, checkTemperature } from '../inputs.ts';
import { interpolate } from '../interpolate.ts';
import { checkSolute, type Solute } from '../solutes.ts';

export interface Dissolution {
  /** Heat given off at most, kJ; null when none is on file for the solute. */
  kJ: number | null;
  /** Rise of the bath's temperature at most, with everything else at its temperature and nothing lost. */
  riseK: number | null;
  /** What is to be expected of both, an estimate; null where no integral heat covers the strengths. */
  expectedKJ: number | null;
  expectedRiseK: number | null;
  flags: string[];
}

/**
 * Heat and temperature rise when stock and water are mixed into a bath. At most, which is what warnings go by: the heat
 * of infinite dilution, less what a liquid stock has given off already, and what the bath gives off as the water thins
 * it; nothing lost to the tank or the air, cold stock and water not credited. Expected: what is dissolved afterwards has
 * given off its integral heat at the new strength; taken off is what the bath and a liquid stock had given off at
 * theirs. In a strong bath stock brings a third less, since what stands in it takes up heat as it gets stronger. The
 * water of a solid counts as free.
 *
 * At most for KOH, NaOH and H2SO4, null and flagged for the others; expected for KOH to 53 wt% and NaOH to 42.5 wt%,
 * flagged as the estimate it is, null past them; so is what water does to the bath, which past them counts as nothing
 * and is flagged. Integral heats of 25 °C at every temperature. Masses from 0, mass
 * fractions 0 to 1, temperatureC -20 to 200; flagged as {@link heatCapacity}.
 * Source: Parker 1965 for the caustics, textbook values from memory for the acid; integral heats of KOH derived from
 * Balej 1985, of NaOH from memory; dT = Q/((m + x) cp(w*, t)).
 * Errors: `unknown` solute, `out-of-range` or `not-finite`.
 *
 * @example
 * dissolution({
 *   solute: 'KOH',
 *   stock: { form: 'solid', massFraction: 0.9 },
 *   stockKg: 10,
 *   bath: { kg: 1000, massFraction: 0.45, temperatureC: 60 },
 * })
 * // { kJ: 9241.32, riseK: 3.45062, expectedKJ: 6816.04, expectedRiseK: 2.54504 }
 */
export function dissolution(input: {
  solute: Solute;
  stock: { form: 'solid' | 'liquid'; massFraction: number };
  stockKg: number;
  waterKg?: number;
  bath: { kg: number; massFraction: number; temperatureC: number };
}): Dissolution {
  const solute = checkSolute(input.solute);
  const strength = checkFraction('stock.massFraction', input.stock.massFraction);
  const stockKg = checkNumber('stockKg', input.stockKg, { min: 0 });
  const waterKg = checkNumber('waterKg', input.waterKg ?? 0, { min: 0 });
  const bathKg = checkNumber('bath.kg', input.bath.kg, { min: 0 });
  const before = checkFraction('bath.massFraction', input.bath.massFraction);
  const temperatureC = checkTemperature('bath.temperatureC', input.bath.temperatureC);
  const table = heatOfSolution[solute];
  if (!table) {
    const unknown = { kJ: null, riseK: null, expectedKJ: null, expectedRiseK: null };
    return { ...unknown, flags: [`no heat of solution of ${solute} on file`] };
  }

  const waterPerMol = ((1 - strength) / molarMass.H2O) * (molarMass[solute] / strength);
  const alreadyGiven = input.stock.form === 'liquid' ? interpolate(table.given, waterPerMol) : 0;
  const ofStock =
    stockKg === 0 || strength === 0
      ? 0
      : ((1000 * stockKg * strength) / molarMass[solute]) * (table.infinite - alreadyGiven);
  const bath = { kg: bathKg, soluteKg: bathKg * before };
  const stock = input.stock.form === 'liquid' ? { kg: stockKg, soluteKg: stockKg * strength } : NOTHING;
  const mixture = { kg: bathKg + stockKg + waterKg, soluteKg: bath.soluteKg + stockKg * strength };
  const expectedKJ = heatGiven(solute, mixture, [bath, stock]);
  const ofDilution = waterKg === 0 ? 0 : heatGiven(solute, { ...bath, kg: bathKg + waterKg }, [bath]);
  const kJ = ofStock + (ofDilution ?? 0);
  const totalKg = bathKg + stockKg + waterKg;
  if (totalKg === 0) return { kJ, riseK: 0, expectedKJ, expectedRiseK: 0, flags: [] };
  const massFraction = Math.min(1, (bathKg * before + stockKg * strength) / totalKg);
  const { jPerKgK, flags } = heatCapacity({ solute, massFraction, temperatureC });
  const riseOf = (heat: number): number => (1000 * heat) / (totalKg * jPerKgK);
  return {
    kJ,
    riseK: riseOf(kJ),
    expectedKJ,
    expectedRiseK: expectedKJ === null ? null : riseOf(expectedKJ),
    flags: [
      ...flags,
      ...(expectedKJ === null || kJ === 0
        ? []
        : [`expected heat of ${solute} is an estimate: ${integralHeat[solute]?.estimate}`]),
      ...(ofDilution === null
        ? [`the heat of water on the ${solute} of the bath is not on file and not counted: add it slowly`]
        : []),
    ],
  };
}

interface Liquid {
  kg: number;
  soluteKg: number;
}

const NOTHING: Liquid = { kg: 0, soluteKg: 0 };

/** Heat given off in a mixture, less that in its parts, water being none; null where one of them is past the table. */
function heatGiven(solute: Solute, mixture: Liquid, parts: readonly Liquid[]): number | null {
  const given = [mixture, ...parts].map((liquid) => integralHeatOf(solute, liquid));
  return given.reduce((left, part) => (left === null || part === null ? null : left - part));
}

function integralHeatOf(solute: Solute, { kg, soluteKg }: Liquid): number | null {
  const mol = (1000 * soluteKg) / molarMass[solute];
  if (mol === 0) return 0;
  const table = integralHeat[solute];
  const [strongest = 0] = table?.points.at(-1) ?? [];
  const perMolOfWater = mol / ((1000 * (kg - soluteKg)) / molarMass.H2O);
  return table === undefined || perMolOfWater > strongest
    ? null
    : mol * interpolate(table.points, perMolOfWater);
}
