import type { TitrantLot } from '@huelot/contracts';
import { withUncertainty } from '$lib/format/uncertainty.ts';

/** A strength as it is typed. */
export interface StrengthValues {
  eqPerLitre: number | null;
  standardUncertaintyEqPerLitre: number | null;
  standardisedOn: string;
}

/** What is sent: a missing strength goes as 0, which the server refuses by name; without an uncertainty none is known. */
export const strengthOf = (values: StrengthValues) => ({
  eqPerLitre: values.eqPerLitre ?? 0,
  standardUncertaintyEqPerLitre: values.standardUncertaintyEqPerLitre ?? 0,
  standardisedOn: values.standardisedOn,
});

/**
 * A strength with what covers about 95 % of where it may lie, two standard uncertainties.
 *
 * @example
 * strengthText({ eqPerLitre: 0.50123, standardUncertaintyEqPerLitre: 0.0007 }) // '0.5012 ± 0.0014 eq/L'
 */
export function strengthText({
  eqPerLitre: value,
  standardUncertaintyEqPerLitre: uncertainty,
}: Pick<TitrantLot['current'], 'eqPerLitre' | 'standardUncertaintyEqPerLitre'>): string {
  const pair = withUncertainty({ value, plusMinus: 2 * uncertainty });
  return `${pair ? `${pair.figure}\u00a0±\u00a0${pair.plusMinus}` : value}\u00a0eq/L`;
}
