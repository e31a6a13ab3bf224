import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

/** Faraday constant, C/mol: CODATA 2018, exact. */
const faraday = 96485.33212;
const secondsPerYear = 365.25 * 86_400;
const milsPerMm = 1 / 0.0254;

/**
 * Stern-Geary: corrosion current density from polarization resistance. Give the Tafel slopes, or B where they are
 * unknown (0.026 V active, 0.052 V passive, common practice); it scales the result directly. Volts, not
 * millivolts.
 *
 * Resistance above 0 to 1e10 ohm cm2, slopes 0.01 to 1 V per decade (both positive), B above 0 to 0.2 V.
 * Source: ASTM G59 and G102; i = B/Rp, B = ba bc/(2.303 (ba + bc)).
 * Errors: `malformed` for B and slopes together or neither, `out-of-range` or `not-finite`.
 *
 * @example
 * corrosionCurrentDensity({
 *   polarizationResistanceOhmCm2: 1250,
 *   anodicTafelVPerDecade: 0.12,
 *   cathodicTafelVPerDecade: 0.12,
 * })
 * // { microampPerCm2: 20.846, sternGearyV: 0.026058 }
 */
export function corrosionCurrentDensity(input: {
  polarizationResistanceOhmCm2: number;
  sternGearyV?: number;
  anodicTafelVPerDecade?: number;
  cathodicTafelVPerDecade?: number;
}): { microampPerCm2: number; sternGearyV: number } {
  const resistance = checkNumber('polarizationResistanceOhmCm2', input.polarizationResistanceOhmCm2, {
    above: 0,
    max: 1e10,
  });
  const sternGearyV = sternGeary(input);
  return { microampPerCm2: (1e6 * sternGearyV) / resistance, sternGearyV };
}

function sternGeary({
  sternGearyV,
  anodicTafelVPerDecade: anodic,
  cathodicTafelVPerDecade: cathodic,
}: Parameters<typeof corrosionCurrentDensity>[0]): number {
  const slopes = anodic !== undefined && cathodic !== undefined;
  if (slopes === (sternGearyV !== undefined) || (anodic === undefined) !== (cathodic === undefined)) {
    throw new CalcError({
      code: 'malformed',
      argument: 'sternGearyV',
      given: sternGearyV,
      allowed: 'either it or both Tafel slopes',
    });
  }
  if (!slopes) return checkNumber('sternGearyV', sternGearyV, { above: 0, max: 0.2 });
  const ba = checkNumber('anodicTafelVPerDecade', anodic, { min: 0.01, max: 1 });
  const bc = checkNumber('cathodicTafelVPerDecade', cathodic, { min: 0.01, max: 1 });
  return (ba * bc) / (Math.LN10 * (ba + bc));
}

/**
 * Corrosion current density as loss of metal: thickness and mass in time, even over the surface. Not for pitting,
 * nor for a surface under applied potential or with another redox reaction on it.
 *
 * Current density from 0 to 1e7 uA/cm2, equivalent weight 1 to 250 g per mole of electrons, density 0.5 to 25
 * g/cm3.
 * Source: ASTM G102 with F and a year of 365.25 days, 3.2707e-3 i EW/rho mm/year.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * corrosionRate({ currentDensityUAPerCm2: 20.84, equivalentWeight: 27.92, densityGPerCm3: 7.87 })
 * // { mmPerYear: 0.241814, milsPerYear: 9.52023, gramsPerM2Day: 5.2103 }
 */
export function corrosionRate({
  currentDensityUAPerCm2,
  equivalentWeight,
  densityGPerCm3,
}: {
  currentDensityUAPerCm2: number;
  equivalentWeight: number;
  densityGPerCm3: number;
}): { mmPerYear: number; milsPerYear: number; gramsPerM2Day: number } {
  const i = checkNumber('currentDensityUAPerCm2', currentDensityUAPerCm2, { min: 0, max: 1e7 });
  const equivalent = checkNumber('equivalentWeight', equivalentWeight, { min: 1, max: 250 });
  const density = checkNumber('densityGPerCm3', densityGPerCm3, { min: 0.5, max: 25 });
  const gramsPerCm2S = (i * 1e-6 * equivalent) / faraday;
  const mmPerYear = (10 * gramsPerCm2S * secondsPerYear) / density;
  return { mmPerYear, milsPerYear: mmPerYear * milsPerMm, gramsPerM2Day: gramsPerCm2S * 1e4 * 86_400 };
}

/**
 * How much slower a treated surface corrodes than a bare one under the same conditions, both as rates of the same
 * unit.
 *
 * Bare above 0; treated above 0, or 0 only as a bound that gives no ratio. Relative standard uncertainties of the
 * two, default 0, carry over to the ratio.
 * Source: definition; ratio = bare/treated, efficiency = 1 - treated/bare (negative when the treatment does harm).
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * protectionRatio({ bareRate: 0.24, treatedRate: 0.0024 }) // { ratio: 100, efficiency: 0.99 }
 */
export function protectionRatio({
  bareRate,
  treatedRate,
  bareRelativeUncertainty,
  treatedRelativeUncertainty,
}: {
  bareRate: number;
  treatedRate: number;
  bareRelativeUncertainty?: number;
  treatedRelativeUncertainty?: number;
}): { ratio: number; efficiency: number; relativeUncertainty: number; flags: string[] } {
  const bare = checkNumber('bareRate', bareRate, { above: 0 });
  const treated = checkNumber('treatedRate', treatedRate, { above: 0 });
  const uBare = checkNumber('bareRelativeUncertainty', bareRelativeUncertainty ?? 0, { min: 0 });
  const uTreated = checkNumber('treatedRelativeUncertainty', treatedRelativeUncertainty ?? 0, {
    min: 0,
  });
  const ratio = bare / treated;
  const relativeUncertainty = Math.hypot(uBare, uTreated);
  const flags: string[] = [];
  if (ratio < 1) flags.push('the treated surface corrodes faster than the bare one');
  // The larger uncertainty of a ratio lies on its logarithm; one is then the value of no effect.
  if (Math.abs(Math.log(ratio)) < 2 * relativeUncertainty) flags.push('not told from no effect');
  return { ratio, efficiency: 1 - treated / bare, relativeUncertainty, flags };
}
