import type { SystemOfUnits } from '@huelot/calc';
import { resultText, uncertainParts } from './result-words.ts';
import type { ShownResult } from './shown-result.ts';

/** What stands small beside a result: the digits that its uncertainty takes off, and the amount said the other way. */
export function otherTexts(
  result: Pick<ShownResult, 'value' | 'standardUncertainty' | 'unit' | 'massFraction' | 'gramsPerLitre'>,
  system: SystemOfUnits,
): string[] {
  const { unit, massFraction, gramsPerLitre } = result;
  const { exactly } = uncertainParts({ ...result, system });
  const said = (as: 'massFraction' | 'gramsPerLitre', value: number | null | undefined) =>
    unit !== as && typeof value === 'number' ? resultText({ unit: as, value, system }) : null;
  const other = said('massFraction', massFraction) ?? said('gramsPerLitre', gramsPerLitre);
  return [exactly, other].filter((text) => text !== null);
}
