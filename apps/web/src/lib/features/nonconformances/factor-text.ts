import type { SystemOfUnits } from '@huelot/calc';
import { ComponentUnit, StepQuantity } from '@huelot/contracts';
import { resultParts } from '$lib/features/lab/result-text.ts';
import { figureText } from '$lib/format/step-settings.ts';

/**
 * A figure of a compared factor as the person reads it: a reading of a step, a result of a bath, or seconds.
 *
 * @example
 * factorText({ value: 27.85, unit: 'voltageV', system: 'metric' }) // '27.85 V'
 */
export function factorText({
  value,
  unit,
  system,
}: {
  value: number;
  unit: string;
  system: SystemOfUnits;
}): string {
  const ofStep = StepQuantity.safeParse(unit);
  if (ofStep.success) return figureText(ofStep.data, Number(value.toPrecision(4)));
  const ofBath = ComponentUnit.safeParse(unit);
  if (!ofBath.success) return `${Math.round(value)} s`;
  const { figure, symbol } = resultParts({ value, unit: ofBath.data, system });
  return `${figure} ${symbol}`.trim();
}
