import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import {
  conductivityTables,
  type ConductivityTable,
  gilliam,
  risePerKelvin,
  sulfuricAcidFit,
} from './data/conductivity.ts';
import { molarMass } from './data/molar-masses.ts';
import { checkTemperature, percent } from './inputs.ts';
import { interpolate } from './interpolate.ts';
import { densityFlags, liquidDensity } from './liquid-density.ts';
import { checkSolute, type Solute } from './solutes.ts';
import { checkStrength } from './strength.ts';

export interface Conductivity {
  siemensPerM: number;
  /** How far the source may be off, as a share; null where only a bound is known. */
  relativeUncertainty: number | null;
  flags: string[];
}

interface Point {
  massFraction: number;
  temperatureC: number;
}

/**
 * Electrical conductivity of a bath liquid.
 *
 * KOH: valid to 12 mol/L and 0 to 100 °C. From 12 to 13.6 mol/L the fit is used from 50 °C up with a flag; below
 * 50 °C the value at 12 mol/L stands in its place, flagged, an upper bound. H2SO4: 1 to 6 mol/L at 25 °C. NaOH,
 * H3PO4, Na3PO4 and (NH4)2SO4: tables at 18 or 20 °C, the first three from memory and flagged so. Other
 * temperatures by 2 % (H2SO4 1.5 %) per kelvin, flagged. `gasFraction` (0 to 0.5) is the volume share of bubbles.
 * Source: Gilliam 2007; Gu, Wang and Liaw 1997; CRC Handbook; bubbles by Bruggeman's (1 - share)^1.5.
 * Errors: `unknown` for a solute without a source (K2CO3, Na2CO3); `out-of-range` for KOH beyond 13.6 mol/L, for
 * which no source is usable, and for the other numbers.
 *
 * @example
 * conductivity({ solute: 'KOH', massFraction: 0.3, temperatureC: 60 })
 * // { siemensPerM: 108.799, relativeUncertainty: 0.08, flags: [] }
 */
export function conductivity(input: {
  solute: Solute;
  massFraction: number;
  temperatureC: number;
  gasFraction?: number;
}): Conductivity {
  const solute = checkSolute(input.solute);
  const point = {
    massFraction: checkStrength('massFraction', input.massFraction, solute),
    temperatureC: checkTemperature('temperatureC', input.temperatureC),
  };
  const gasFraction = checkNumber('gasFraction', input.gasFraction ?? 0, { min: 0, max: 0.5 });
  const clear = clearLiquid(solute, point);
  return { ...clear, siemensPerM: clear.siemensPerM * (1 - gasFraction) ** 1.5 };
}

function clearLiquid(solute: Solute, point: Point): Conductivity {
  if (solute === 'KOH') return potassiumHydroxide(point);
  if (solute === 'H2SO4') return sulfuricAcid(point);
  if (solute === 'K2CO3' || solute === 'Na2CO3') {
    throw new CalcError({
      code: 'unknown',
      argument: 'solute',
      given: solute,
      allowed: ['KOH', 'H2SO4', ...Object.keys(conductivityTables)].join(', '),
    });
  }
  return fromTable(solute, point);
}

function potassiumHydroxide({ massFraction, temperatureC }: Point): Conductivity {
  const liquid = { solute: 'KOH' as const, massFraction, temperatureC };
  const molPerLitre = (massFraction * liquidDensity(liquid)) / molarMass.KOH;
  const { maxMolPerLitre, minC, maxC, usableTo } = gilliam;
  if (molPerLitre > usableTo.molPerLitre) {
    throw new CalcError({
      code: 'out-of-range',
      argument: 'massFraction',
      given: massFraction,
      allowed: `up to ${usableTo.molPerLitre} mol/L, beyond which no source is usable; this is ${molPerLitre.toFixed(1)}`,
    });
  }
  const flags = densityFlags(liquid);
  const covered = temperatureC >= minC && temperatureC <= maxC;
  if (!covered) flags.push(`conductivity of KOH extrapolated: its source covers ${minC} to ${maxC} °C`);
  if (molPerLitre <= maxMolPerLitre) {
    const relativeUncertainty = covered ? 0.08 : 0.15;
    return { siemensPerM: gilliamFit(molPerLitre, temperatureC), relativeUncertainty, flags };
  }
  const past = `${molPerLitre.toFixed(1)} mol/L is past the 12 mol/L its source ends at`;
  if (temperatureC >= usableTo.fromC) {
    flags.push(`conductivity of KOH extrapolated, +-15 %: ${past}`);
    return { siemensPerM: gilliamFit(molPerLitre, temperatureC), relativeUncertainty: 0.15, flags };
  }
  flags.push(`conductivity of KOH held at its value for 12 mol/L, an upper bound: ${past}`);
  return { siemensPerM: gilliamFit(maxMolPerLitre, temperatureC), relativeUncertainty: null, flags };
}

/** S/m from mol/L and °C; the fit itself speaks of S/cm and kelvin. */
function gilliamFit(M: number, temperatureC: number): number {
  const { A, B, C, D, E, F } = gilliam;
  const T = temperatureC + 273.15;
  return 100 * (A * M + B * M ** 2 + C * M * T + (D * M) / T + E * M ** 3 + F * M ** 2 * T ** 2);
}

function sulfuricAcid({ massFraction, temperatureC }: Point): Conductivity {
  const { scale, a, b, c, atC, minMolPerLitre, maxMolPerLitre } = sulfuricAcidFit;
  const liquid = { solute: 'H2SO4' as const, massFraction, temperatureC: atC };
  const molPerM3 = (1000 * massFraction * liquidDensity(liquid)) / molarMass.H2SO4;
  const atFit = scale * molPerM3 * Math.exp(a + b * molPerM3 + c * molPerM3 ** 2);
  const molPerLitre = molPerM3 / 1000;
  const flags = densityFlags(liquid);
  const covered = molPerLitre >= minMolPerLitre && molPerLitre <= maxMolPerLitre;
  if (!covered) {
    flags.push(
      `conductivity of H2SO4 extrapolated: its source covers ${minMolPerLitre} to ${maxMolPerLitre} mol/L`,
    );
  }
  const carried = carryOver({ kelvin: temperatureC - atC, share: risePerKelvin.H2SO4, solute: 'H2SO4', atC });
  return {
    siemensPerM: atFit * carried.factor,
    relativeUncertainty: covered ? 0.1 : 0.2,
    flags: [...flags, ...carried.flags],
  };
}

function fromTable(
  solute: keyof typeof conductivityTables,
  { massFraction, temperatureC }: Point,
): Conductivity {
  const { rows, evidence }: ConductivityTable = conductivityTables[solute];
  const strongest = rows.at(-1)?.[0] ?? 0;
  const atC = rows.at(-1)?.[1] ?? 20;
  const flags: string[] = [];
  if (massFraction > strongest) {
    flags.push(`conductivity of ${solute} held at its last value: its table ends at ${percent(strongest)}`);
  }
  if (evidence === 'M') flags.push(`conductivity of ${solute} is from memory, unverified`);
  const share = risePerKelvin.other;
  const carried = carryOver({ kelvin: temperatureC - atC, share, solute, atC });
  const atTemperature = rows.map(([w, rowC, siemens]) => {
    const kelvin = temperatureC - rowC;
    return [w, siemens * carryOver({ kelvin, share, solute, atC: rowC }).factor] as const;
  });
  return {
    siemensPerM: interpolate([[0, 0], ...atTemperature], massFraction),
    relativeUncertainty: evidence === 'M' ? null : 0.05,
    flags: [...flags, ...carried.flags],
  };
}

/** The rule of thumb that carries a value to a temperature near that of its source, and what must be said about it. */
function carryOver({
  kelvin,
  share,
  solute,
  atC,
}: {
  kelvin: number;
  share: number;
  solute: Solute;
  atC: number;
}): {
  factor: number;
  flags: string[];
} {
  if (kelvin === 0) return { factor: 1, flags: [] };
  const { withinK } = risePerKelvin;
  const within = Math.max(-withinK, Math.min(withinK, kelvin));
  const perKelvin = `${share * 100} % per kelvin (rule of thumb)`;
  const rule = `conductivity of ${solute} known at ${atC} °C, carried over at ${perKelvin}`;
  return {
    factor: 1 + share * within,
    flags: [within === kelvin ? rule : `${rule}, no further than ${withinK} K`],
  };
}
