import type { CouponOutcome, CouponSeriesItem, RevisionStatus, StrengthUnit } from '@huelot/contracts';

export const couponStates: Record<
  RevisionStatus,
  { label: string; tone: 'info' | 'good' | 'quiet' | 'caution' }
> = {
  draft: { label: 'draft', tone: 'info' },
  approved: { label: 'approved', tone: 'good' },
  superseded: { label: 'superseded', tone: 'quiet' },
  retired: { label: 'retired', tone: 'caution' },
};

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

/** `L* 42.9, a* 9.1, b* −42.1` */
export const labWords = ({ L, a, b }: { L: number; a: number; b: number }): string =>
  [
    ['L*', L],
    ['a*', a],
    ['b*', b],
  ]
    .map(([axis, value]) => `${axis}\u00a0${Number(value).toFixed(1).replace('-', '−')}`)
    .join(', ');
