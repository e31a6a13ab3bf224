import { CalcError, gramsPerLitreFrom, massFractionFrom } from '@huelot/calc';
import type { Solute } from '@huelot/contracts';

interface Litre {
  solute: Solute;
  temperatureC: number;
}

/** Figures that are shown of a strength and typed again come out the same. */
const figures = 9;

/**
 * A mass fraction as g/L at a temperature, for baths that are watched in g/L.
 *
 * @example
 * inLitre(0.145487, { solute: 'H2SO4', temperatureC: 20 }) // 160
 */
export const inLitre = (massFraction: number | null, { solute, temperatureC }: Litre): number | null =>
  massFraction === null
    ? null
    : Number(gramsPerLitreFrom({ solute, massFraction, temperatureC }).gramsPerLitre.toPrecision(figures));

/** The mass fraction behind g/L at a temperature; null where no strength gives it. */
export function outOfLitre(gramsPerLitre: number | null, { solute, temperatureC }: Litre): number | null {
  if (gramsPerLitre === null) return null;
  try {
    return massFractionFrom({ solute, gramsPerLitre, temperatureC }).massFraction;
  } catch (error) {
    if (error instanceof CalcError) return null;
    throw error;
  }
}
