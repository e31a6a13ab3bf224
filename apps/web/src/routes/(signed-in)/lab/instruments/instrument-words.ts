import type { Instrument, TitrantLot } from '@huelot/contracts';

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
 * A strength with its standard uncertainty, written to two figures of the uncertainty.
 *
 * @example
 * strengthText({ eqPerLitre: 0.50123, standardUncertaintyEqPerLitre: 0.0007 }) // '0.50123 ± 0.00070 eq/L'
 */
export function strengthText(
  of: Pick<TitrantLot['current'], 'eqPerLitre' | 'standardUncertaintyEqPerLitre'>,
): string {
  const { eqPerLitre, standardUncertaintyEqPerLitre: uncertainty } = of;
  if (uncertainty === 0) return `${eqPerLitre}\u00a0eq/L`;
  const decimals = Math.min(6, Math.max(3, 1 - Math.floor(Math.log10(uncertainty))));
  return `${eqPerLitre.toFixed(decimals)}\u00a0±\u00a0${uncertainty.toFixed(decimals)}\u00a0eq/L`;
}
