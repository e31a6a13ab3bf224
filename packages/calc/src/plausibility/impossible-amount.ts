import { checkFinite } from '../check.ts';
import { gramsPerLitreFrom } from '../bath/concentration.ts';
import { liquidEndsAt } from '../bath/data/solubility.ts';
import { molarMass } from '../bath/data/molar-masses.ts';
import { type Solute, solutes } from '../bath/solutes.ts';
import type { LabUnit } from '../lab/readings.ts';

/** No liquid at a bath holds more of anything. Common practice, no source. */
const mostGramsPerLitre = 2000;
const mostMolPerLitre = 40;
const roomC = 20;

/**
 * Whether a figure can be at all: nothing is below nothing, a share is not above the whole, and no liquid of a solute on file
 * is stronger than its strongest. Null when it can be; otherwise the range that it must be in, in its own unit.
 *
 * Valid for any component; those on file are KOH, NaOH, H2SO4, H3PO4, Na3PO4, K2CO3, Na2CO3 and (NH4)2SO4.
 * Source: the ends of {@link massFractionFrom}; pH -2 to 16 and conductivity to 200 S/m are common practice, no source.
 * Errors: `not-finite`.
 *
 * @example
 * impossibleAmount({ component: 'KOH', unit: 'massFraction', value: 0.97, referenceTemperatureC: null }) // { low: 0, high: 0.85 }
 */
export function impossibleAmount(input: {
  component: string;
  unit: LabUnit;
  value: number;
  referenceTemperatureC: number | null;
}): { low: number; high: number } | null {
  checkFinite('', input);
  const low = input.unit === 'pH' ? -2 : 0;
  const high = highest(input);
  return input.value >= low && input.value <= high ? null : { low, high };
}

function highest({ component, unit, referenceTemperatureC }: Parameters<typeof impossibleAmount>[0]): number {
  if (unit === 'pH') return 16;
  if (unit === 'judgement') return 1;
  if (unit === 'siemensPerM') return 200;
  if (unit === 'ntu') return 1e5;
  const solute = solutes.find((name) => name === component);
  if (unit === 'massFraction') return solute === undefined ? 1 : liquidEndsAt[solute];
  const grams =
    solute === undefined ? mostGramsPerLitre : strongestGramsPerLitre(solute, referenceTemperatureC);
  if (unit === 'gramsPerLitre') return grams;
  return solute === undefined ? mostMolPerLitre : grams / molarMass[solute];
}

const strongestGramsPerLitre = (solute: Solute, referenceTemperatureC: number | null): number =>
  gramsPerLitreFrom({
    solute,
    massFraction: liquidEndsAt[solute],
    temperatureC: referenceTemperatureC ?? roomC,
  }).gramsPerLitre;
