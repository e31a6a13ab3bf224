import { baseMetalNames, contentsNames, type ColourNow, type TankContents } from '@huelot/contracts';

type Untested = Pick<ColourNow, 'gap' | 'alloy' | 'baseMetals' | 'series' | 'support'>;

/**
 * Why nothing is said about a colour, and what would change that. `inUnit` writes a strength as the person reads it.
 *
 * @example
 * gapWords({ gap: 'one-strength', ... }, { contents: 'hot-caustic', inUnit: String }).todo
 */
export function gapWords(
  { gap, alloy, baseMetals, series, support }: Untested,
  of: { contents: TankContents; inUnit: (strength: number) => string },
): { why: string; todo: string } {
  const around = 'Make coupons at this setting, at several strengths on both sides of the target.';
  const tried = support?.strengths;
  switch (gap) {
    case null:
      return { why: '', todo: '' };
    case 'no-series':
      return {
        why:
          alloy === null
            ? `No approved coupons of ${baseMetals.map((metal) => baseMetalNames[metal]).join(' or ')} in ${contentsNames[of.contents]}.`
            : `No approved coupons of this alloy in ${contentsNames[of.contents]}; another may take another colour.`,
        todo: 'Make coupons at several strengths on both sides of the target, enter them as a series and have it approved.',
      };
    case 'no-setting':
      return {
        why: 'The step names no temperature, or leaves the voltage open.',
        todo: 'Set both in the recipe.',
      };
    case 'strength-not-watched':
      return {
        why: `The coupons state ${series?.component ?? 'a component'} in another way than this bath is watched for, or it is not watched for it.`,
        todo: 'Watch the bath for it in the unit of the coupons.',
      };
    case 'no-target':
      return {
        why: 'The bath has no target strength to compare with.',
        todo: 'Say what it should be, where it is said how the bath is watched.',
      };
    case 'not-analysed':
      return { why: 'The strength of this fill was never analysed.', todo: 'Analyse it.' };
    case 'changed-since':
      return {
        why: 'Something was added after the latest sample: nobody knows the strength now.',
        todo: 'Analyse it.',
      };
    case 'no-trial-near':
      return { why: 'No coupon lies near this setting at both strengths.', todo: around };
    case 'trials-disagree':
      return { why: 'Coupons near this setting came out differently, or are few.', todo: around };
    case 'one-strength':
      return {
        why: 'All coupons near were made at one strength: they cannot say what another does.',
        todo: around,
      };
    case 'outside-tried':
      return {
        why: tried
          ? `The bath or its target lies outside the strengths tried, ${of.inUnit(tried.low)} to ${of.inUnit(tried.high)}.`
          : 'The bath or its target lies outside the strengths tried.',
        todo: 'Make coupons beyond them, or bring the bath back.',
      };
    case 'few-trials':
      return { why: 'Too few coupons near have a measured colour.', todo: around };
    case 'not-separable':
      return {
        why: 'Coupons near scatter too much, or changed in other settings together with the strength.',
        todo: 'Make coupons that differ in strength alone.',
      };
  }
}
