import type { Instrument, TitrantLot } from '@huelot/contracts';
import { withUncertainty } from '$lib/units/uncertainty.ts';

export const instrumentKinds: Record<Instrument['kind'], string> = {
  burette: 'burette',
  pipette: 'pipette',
  balance: 'balance',
  'ph-meter': 'pH meter',
  'conductivity-meter': 'conductivity meter',
  hydrometer: 'hydrometer',
  thermometer: 'thermometer',
  other: 'other',
};

/**
 * A strength with what covers about 95 % of where it may lie, two standard uncertainties.
 *
 * @example
 * strengthText({ eqPerLitre: 0.50123, standardUncertaintyEqPerLitre: 0.0007 }) // '0.5012 ± 0.0014 eq/L'
 */
export function strengthText(
  of: Pick<TitrantLot['current'], 'eqPerLitre' | 'standardUncertaintyEqPerLitre'>,
): string {
  const { eqPerLitre: value, standardUncertaintyEqPerLitre: uncertainty } = of;
  const pair = withUncertainty({ value, plusMinus: 2 * uncertainty });
  return `${pair ? `${pair.figure}\u00a0±\u00a0${pair.plusMinus}` : value}\u00a0eq/L`;
}
