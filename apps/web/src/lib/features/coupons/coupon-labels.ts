import {
  type CouponOutcome,
  type CouponSeriesItem,
  type StrengthUnit,
  type TrialFactor,
  trialFactors,
} from '@huelot/contracts';
import { resultText } from '$lib/features/lab/result-text.ts';
import { format } from '$lib/format/format.ts';

export const outcomeNames: Record<CouponOutcome, string> = {
  none: 'nothing',
  interference: 'interference colour',
  'gold-brown': 'gold to brown',
  dark: 'dark: black or grey',
  dyed: 'took the dye',
  powdery: 'powdery',
  etched: 'etched',
  spotted: 'spotted',
  'bath-coloured': 'the bath took colour',
};
/** In a narrow column. */
export const outcomeShort: Record<CouponOutcome, string> = {
  ...outcomeNames,
  interference: 'interference',
  dark: 'dark',
};

export type Protection = 'yes' | 'no' | 'unknown';
export const protectionNames: Record<Protection, string> = {
  yes: 'protects',
  no: 'does not protect',
  unknown: 'unknown',
};
export const toProtection = (protects: boolean | null): Protection =>
  protects === null ? 'unknown' : protects ? 'yes' : 'no';

/**
 * What a coupon was made under, as the person reads it; `–` where it has none.
 *
 * @example
 * factorText('pH', { value: 5.5, unit: 'gramsPerLitre', system: 'metric' }) // '5.5'
 */
export function factorText(
  factor: TrialFactor,
  { value, unit, system }: { value: number | null; unit: StrengthUnit; system: 'metric' | 'us' },
): string {
  if (value === null) return '–';
  if (factor === 'strength') return resultText({ value, unit, system });
  const { shownAs } = trialFactors[factor];
  if (shownAs === null) return String(value);
  return format.quantity(shownAs === 'shortDuration' ? 'duration' : shownAs, value);
}

export const strengthUnitNames: Record<StrengthUnit, string> = {
  massFraction: 'mass fraction',
  gramsPerLitre: 'mass per litre',
  molPerLitre: 'moles per litre',
};

/**
 * A material with its condition, as lists and choices name it.
 *
 * @example
 * materialWords({ name: 'Titanium grade 2', condition: 'annealed' }) // 'Titanium grade 2, annealed'
 */
export const materialWords = ({
  name,
  condition,
}: Pick<CouponSeriesItem['material'], 'name' | 'condition'>) => [name, condition].filter(Boolean).join(', ');
