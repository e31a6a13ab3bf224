import { checkName } from '../check.ts';
import { CalcError } from '../errors.ts';
import { densityCoefficients } from './data/density-model.ts';
import { modelDensity, type Part } from './density-model.ts';
import { checkTemperature, percent } from './inputs.ts';
import { densityBand, densityFlags, liquidDensity } from './liquid-density.ts';
import { checkSolute, dissolvedSalts, type Solute } from './solutes.ts';
import { checkStrength } from './strength.ts';

export interface Density {
  kgPerM3: number;
  /**
   * Half the spread between published sources, not a standard deviation: 1512 +-8 for 50 wt% KOH at 20 °C. Twice that
   * where the source is left.
   */
  bandKgPerM3: number;
  flags: string[];
}

/**
 * Density of a bath liquid from its strength and temperature.
 *
 * Valid for temperatureC -20 to 200 and massFraction 0 to what can be a liquid anywhere there: the acids 1, KOH and
 * NaOH 0.85, K2CO3 0.75, (NH4)2SO4 0.6, Na3PO4 0.5, Na2CO3 0.35. Flagged outside what the solute's source covers: KOH to
 * 51.9 wt% and 4 to 95 °C, NaOH to 50 wt% and 4 (strong: 20) to 100 °C, H2SO4 to 100 wt%, H3PO4 to 85, Na3PO4 to 8,
 * K2CO3 to 36, Na2CO3 to 21, (NH4)2SO4 to 43 wt%; also flagged where the liquid boils.
 * Source: Laliberté 2009; published table for NaOH above 22 wt%; CRC Handbook at 20 °C for Na3PO4 and for H2SO4 above
 * 78 wt%.
 * Errors: `unknown` solute, `out-of-range` or `not-finite` for the numbers.
 *
 * @example
 * density({ solute: 'KOH', massFraction: 0.5, temperatureC: 60 }) // { kgPerM3: 1484.7, flags: [] }
 */
export function density(input: { solute: Solute; massFraction: number; temperatureC: number }): Density {
  const solute = checkSolute(input.solute);
  const point = {
    solute,
    massFraction: checkStrength('massFraction', input.massFraction, solute),
    temperatureC: checkTemperature('temperatureC', input.temperatureC),
  };
  return { kgPerM3: liquidDensity(point), bandKgPerM3: densityBand(point), flags: densityFlags(point) };
}

/**
 * Density of a liquid with several solutes: caustic with its carbonate, sulfuric acid with aluminium sulfate. The
 * model for all of them together is brought to the better density of the main solute alone where one is on file.
 *
 * Valid for mass fractions each as in {@link density} (aluminium sulfate to 0.5) that sum to at most 1, and temperatureC -20 to 200; flagged where the main solute leaves
 * its source or another solute the points its coefficients were fitted to.
 * Source: Laliberté and Cooper 2004, coefficients of Laliberté 2009 (mixture form).
 * Errors: `unknown` solute, `impossible` for a sum above 1, `out-of-range` or `not-finite` for the numbers.
 *
 * @example
 * mixtureDensity({
 *   parts: [{ solute: 'KOH', massFraction: 0.484 }, { solute: 'K2CO3', massFraction: 0.0315 }],
 *   temperatureC: 20,
 * })
 * // { kgPerM3: 1533.81 }
 */
export function mixtureDensity(input: { parts: readonly Part[]; temperatureC: number }): {
  kgPerM3: number;
  flags: string[];
} {
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  const parts = input.parts.map((part) => {
    const solute = checkName('solute', part.solute, dissolvedSalts);
    return { solute, massFraction: checkStrength('massFraction', part.massFraction, solute) };
  });
  const solids = parts.reduce((sum, part) => sum + part.massFraction, 0);
  if (solids > 1) {
    throw new CalcError({
      code: 'impossible',
      argument: 'parts',
      given: `${percent(solids)} in all`,
      allowed: 'mass fractions that sum to at most 1',
    });
  }
  return { kgPerM3: mixtureKgPerM3(parts, temperatureC), flags: mixtureFlags(parts, temperatureC) };
}

/** The same for inputs that are already checked. */
export function mixtureKgPerM3(parts: readonly Part[], temperatureC: number): number {
  const main = mainPart(parts);
  const together = modelDensity(parts, temperatureC);
  if (!main || main.solute === 'Al2_SO4_3') return together;
  const { solute, massFraction } = main;
  const alone = liquidDensity({ solute, massFraction, temperatureC });
  return (together * alone) / modelDensity([main], temperatureC);
}

const mainPart = (parts: readonly Part[]): Part | undefined =>
  parts.toSorted((a, b) => b.massFraction - a.massFraction)[0];

export function mixtureFlags(parts: readonly Part[], temperatureC: number): string[] {
  const main = mainPart(parts);
  return parts.flatMap((part) => {
    const { solute, massFraction } = part;
    if (solute !== 'Al2_SO4_3' && part === main) return densityFlags({ solute, massFraction, temperatureC });
    const { maxMassFraction } = densityCoefficients[solute];
    return massFraction > maxMassFraction
      ? [`density with ${solute} extrapolated: its coefficients end at ${percent(maxMassFraction)}`]
      : [];
  });
}
