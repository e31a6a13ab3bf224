import { checkNumber, checkWhole } from '../check.ts';
import { bisect } from '../numeric/root.ts';
import { molarMass } from './data/molar-masses.ts';
import { liquidEndsAt } from './data/solubility.ts';
import { checkTemperature } from './inputs.ts';
import { densityFlags, liquidDensity } from './liquid-density.ts';
import { checkSolute, type Solute } from './solutes.ts';
import { checkStrength } from './strength.ts';

interface Strength {
  solute: Solute;
  massFraction: number;
  temperatureC: number;
}

function checkLiquid(input: Strength): Strength {
  const solute = checkSolute(input.solute);
  return {
    solute,
    massFraction: checkStrength('massFraction', input.massFraction, solute),
    temperatureC: checkTemperature('temperatureC', input.temperatureC),
  };
}

/**
 * Grams of solute in a litre of liquid at the given temperature. The same liquid has another value at another
 * temperature: 756 g/L at 20 °C and 742 g/L at 60 °C for 50 wt% KOH.
 *
 * Valid and flagged as {@link density}. Source: c = w rho, definition. Errors: as {@link density}.
 *
 * @example
 * gramsPerLitreFrom({ solute: 'KOH', massFraction: 0.5, temperatureC: 60 }) // { gramsPerLitre: 742.351 }
 */
export function gramsPerLitreFrom(input: Strength): { gramsPerLitre: number; flags: string[] } {
  const strength = checkLiquid(input);
  return {
    gramsPerLitre: strength.massFraction * liquidDensity(strength),
    flags: densityFlags(strength),
  };
}

/**
 * Moles of solute in a litre of liquid at the given temperature.
 *
 * Valid and flagged as {@link density}. Source: M = w rho / molar mass, definition. Errors: as {@link density}.
 *
 * @example
 * molarityFrom({ solute: 'KOH', massFraction: 0.5, temperatureC: 60 }) // { molPerLitre: 13.2313 }
 */
export function molarityFrom(input: Strength): { molPerLitre: number; flags: string[] } {
  const { gramsPerLitre, flags } = gramsPerLitreFrom(input);
  return { molPerLitre: gramsPerLitre / molarMass[input.solute], flags };
}

/**
 * Mass fraction from grams per litre at the temperature at which the litre was measured: the one value that does not
 * change when the bath warms up.
 *
 * Valid for gramsPerLitre from 0 to that of the strongest liquid of the solute; flagged as {@link density}.
 * Source: root of w rho(w, t) = c, which rises with w for every solute on file.
 * Errors: `unknown` solute, `out-of-range` or `not-finite` for the numbers.
 *
 * @example
 * massFractionFrom({ solute: 'H2SO4', gramsPerLitre: 180, temperatureC: 20 }) // { massFraction: 0.161899 }
 */
export function massFractionFrom(input: { solute: Solute; gramsPerLitre: number; temperatureC: number }): {
  massFraction: number;
  flags: string[];
} {
  const solute = checkSolute(input.solute);
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  const at = (w: number): number => w * liquidDensity({ solute, massFraction: w, temperatureC });
  const high = liquidEndsAt[solute];
  const gramsPerLitre = checkNumber('gramsPerLitre', input.gramsPerLitre, { min: 0, max: at(high) });
  const massFraction = bisect({ f: (w) => at(w) - gramsPerLitre, low: 0, high });
  return { massFraction, flags: densityFlags({ solute, massFraction, temperatureC }) };
}

/**
 * Mass fraction of the bare solute in a hydrate of it, as weighed out of the bag: 0.431 for Na3PO4·12H2O. Use it
 * as the strength of a stock; a flake of given assay is its assay.
 *
 * Valid for 0 to 20 molecules of water and a purity from above 0 to 1.
 * Source: molar masses, definition.
 * Errors: `unknown` solute; `out-of-range` or `not-finite` for the numbers.
 *
 * @example
 * hydrateMassFraction({ solute: 'Na3PO4', waters: 12 }) // 0.431285
 */
export function hydrateMassFraction(input: { solute: Solute; waters: number; purity?: number }): number {
  const solute = checkSolute(input.solute);
  const waters = checkWhole('waters', input.waters, { min: 0, max: 20 });
  const purity = checkNumber('purity', input.purity ?? 1, { above: 0, max: 1 });
  const bare = molarMass[solute];
  return (purity * bare) / (bare + waters * molarMass.H2O);
}
