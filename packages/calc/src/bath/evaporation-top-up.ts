import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { massFractionFrom } from './concentration.ts';
import { liquidEndsAt } from './data/solubility.ts';
import { waterDensity } from './density-model.ts';
import { checkTemperature } from './inputs.ts';
import { densityFlags, liquidDensity } from './liquid-density.ts';
import { checkSolute, type Solute } from './solutes.ts';
import { checkStrength } from './strength.ts';

export interface EvaporationTopUp {
  /** Water to add; 0 when the bath has gained. */
  waterKg: number;
  /** The same in litres at 20 °C. */
  waterL: number;
  /** Water that left, negative when cold caustic drew it from the air. */
  lostKg: number;
  massFractionNow: number;
  flags: string[];
}

/**
 * Water that evaporation took from a bath whose strength at the full mark is known and whose level is read now, at
 * the same temperature. The solute stays, so the missing litres are not litres of water: for strong caustic they
 * weigh more.
 *
 * Valid for a level from half the mark to a tenth above it, strength above 0; flagged as {@link density}.
 * Source: mass balance of the solute, w rho(w, t) V = constant.
 * Errors: `impossible` when so much is gone that no liquid holds the solute; `unknown` solute, `out-of-range` or
 * `not-finite`.
 *
 * @example
 * topUpEvaporation({ solute: 'KOH', fullVolumeL: 500, volumeL: 485, massFractionWhenFull: 0.5, temperatureC: 60 })
 * // { waterKg: 15.915, massFractionNow: 0.510954 }
 */
export function topUpEvaporation(input: {
  solute: Solute;
  fullVolumeL: number;
  volumeL: number;
  massFractionWhenFull: number;
  temperatureC: number;
}): EvaporationTopUp {
  const solute = checkSolute(input.solute);
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  const fullVolumeL = checkNumber('fullVolumeL', input.fullVolumeL, { above: 0 });
  const volumeL = checkNumber('volumeL', input.volumeL, { min: fullVolumeL / 2, max: 1.1 * fullVolumeL });
  const whenFull = checkStrength('massFractionWhenFull', input.massFractionWhenFull, solute);
  checkNumber('massFractionWhenFull', whenFull, { above: 0 });

  const full = { solute, massFraction: whenFull, temperatureC };
  const fullKg = (liquidDensity(full) * fullVolumeL) / 1000;
  const soluteKg = whenFull * fullKg;
  const gramsPerLitre = (1000 * soluteKg) / volumeL;
  const strongest = liquidEndsAt[solute];
  if (gramsPerLitre > strongest * liquidDensity({ ...full, massFraction: strongest })) {
    throw new CalcError({
      code: 'impossible',
      argument: 'volumeL',
      given: volumeL,
      allowed: 'a level that still holds the solute of the full bath',
    });
  }
  const { massFraction } = massFractionFrom({ solute, gramsPerLitre, temperatureC });
  const lostKg = fullKg - soluteKg / massFraction;
  const flags = densityFlags({ ...full, massFraction: Math.max(whenFull, massFraction) });
  if (lostKg < 0) flags.push('the bath has gained water: nothing to add');
  const waterKg = Math.max(0, lostKg);
  return {
    waterKg,
    waterL: (1000 * waterKg) / waterDensity(20),
    lostKg,
    massFractionNow: massFraction,
    flags,
  };
}
