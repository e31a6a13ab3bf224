import type { SystemOfUnits } from '@huelot/calc';
import type { ComponentUnit } from '@huelot/contracts';
import { resultText, uncertainParts } from './result-text.ts';
import type { ShownResult } from './shown-result.ts';

/**
 * What stands small beside a result: the digits that its uncertainty takes off, the amount said the other way, and one
 * standard uncertainty as a share of it.
 */
export function otherTexts(
  result: Pick<ShownResult, 'value' | 'standardUncertainty' | 'unit' | 'massFraction' | 'gramsPerLitre'>,
  system: SystemOfUnits,
): string[] {
  const { unit, massFraction, gramsPerLitre } = result;
  const { exactly } = uncertainParts({ ...result, system });
  const said = (as: 'massFraction' | 'gramsPerLitre', value: number | null | undefined) =>
    unit !== as && typeof value === 'number' ? resultText({ unit: as, value, system }) : null;
  const other = said('massFraction', massFraction) ?? said('gramsPerLitre', gramsPerLitre);
  return [exactly, other, relativeText(result)].filter((text) => text !== null);
}

const amounts: readonly ComponentUnit[] = ['massFraction', 'gramsPerLitre', 'molPerLitre'];

/** Of an amount; a pH or a judgement has no share. */
function relativeText({
  value,
  standardUncertainty: u,
  unit,
}: Pick<ShownResult, 'value' | 'standardUncertainty' | 'unit'>): string | null {
  if (!amounts.includes(unit) || u === null || u === 0 || value <= 0) return null;
  return `standard uncertainty ${Number(((100 * u) / value).toPrecision(2))}\u00a0%`;
}
