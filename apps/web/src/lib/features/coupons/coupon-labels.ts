import type { CouponOutcome, CouponSeriesItem, StrengthUnit } from '@huelot/contracts';

export const outcomeNames: Record<CouponOutcome, string> = {
  none: 'nothing',
  interference: 'interference colour',
  dark: 'dark: black, brown or grey',
};
/** In a narrow column. */
export const outcomeShort: Record<CouponOutcome, string> = {
  none: 'nothing',
  interference: 'interference',
  dark: 'dark',
};

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
