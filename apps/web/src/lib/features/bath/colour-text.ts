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
  input: { contents: TankContents; inUnit: (strength: number) => string },
): { why: string; todo: string } {
  const around = 'Make coupons at this setting, at several concentrations on both sides of the target.';
  const tried = support?.strengths;
  switch (gap) {
    case null:
      return { why: '', todo: '' };
    case 'no-series':
      return {
        why:
          alloy === null
            ? `No approved coupons of ${baseMetals.map((metal) => baseMetalNames[metal]).join(' or ')} in ${contentsNames[input.contents]}.`
            : `No approved coupons of this alloy in ${contentsNames[input.contents]}; another may take another colour.`,
        todo: 'Make coupons at several concentrations on both sides of the target, enter them as a series and have it approved.',
      };
    case 'no-setting':
      return {
        why: 'The step names no temperature, or leaves the voltage open.',
        todo: 'Set both in the recipe.',
      };
    case 'strength-not-watched':
      return {
        why: `The coupons state ${series?.component ?? 'a component'} in another unit than this bath's monitoring plan, or the plan leaves it out.`,
        todo: 'Monitor it in the unit of the coupons.',
      };
    case 'no-target':
      return {
        why: 'The bath has no target concentration to compare with.',
        todo: 'Set a target in the monitoring plan.',
      };
    case 'not-analysed':
      return { why: 'The concentration of this bath was never analysed.', todo: 'Analyse it.' };
    case 'changed-since':
      return {
        why: 'Something was added after the latest sample, so the present concentration is unknown.',
        todo: 'Analyse it.',
      };
    case 'no-trial-near':
      return { why: 'No coupon is near this setting at both concentrations.', todo: around };
    case 'trials-disagree':
      return { why: 'Coupons near this setting are few, or came out differently.', todo: around };
    case 'one-strength':
      return {
        why: 'All coupons nearby were made at one concentration, so they cannot show the effect of another.',
        todo: around,
      };
    case 'outside-tried':
      return {
        why: tried
          ? `The bath or its target is outside the concentrations tried, ${input.inUnit(tried.low)} to ${input.inUnit(tried.high)}.`
          : 'The bath or its target is outside the concentrations tried.',
        todo: 'Make coupons beyond them, or correct the bath.',
      };
    case 'few-trials':
      return { why: 'Too few coupons nearby have a measured colour.', todo: around };
    case 'not-separable':
      return {
        why: 'Coupons nearby scatter too much, or other settings changed together with the concentration.',
        todo: 'Make coupons that differ in concentration only.',
      };
  }
}
