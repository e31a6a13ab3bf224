import { boilingPoint } from '../../heat/boiling-point.ts';
import { isCaustic } from '../solutes.ts';
import type { CheckedRequest } from './request.ts';
import type { AdditionStep } from './steps.ts';

/** What to warn of, by key; the words are those of the cautions for steps and baths. */
export type AdditionCaution =
  | 'caustic-into-water'
  | 'water-into-strong'
  | 'acid-into-water'
  | 'protect-yourself'
  | 'heat-rise'
  | 'near-boiling'
  | 'caustic-and-metals'
  | 'current-off';

/** Pure water boils first: the floor where no boiling curve is on file. */
const waterBoilsAtC = 100;

/** A bath that heats noticeably when water meets it. Common practice, no source. */
const strongMassFraction = 0.3;

/** Margin to the boiling point that calls for a warning. Common practice, no source. */
const boilingMarginK = 10;

/** What to warn of before these steps are done. */
export function cautionsFor(
  { solute, temperatureC, massFraction, targetMassFraction }: CheckedRequest,
  { steps, riseK }: { steps: readonly AdditionStep[]; riseK: number | null },
): AdditionCaution[] {
  if (steps.length === 0) return [];
  const caustic = isCaustic(solute);
  const acid = solute === 'H2SO4' || solute === 'H3PO4';
  const boilingC = caustic
    ? boilingPoint({ solute, massFraction: Math.min(0.6, targetMassFraction) }).temperatureC
    : waterBoilsAtC;
  const watered = massFraction > strongMassFraction && steps.some((step) => step.action === 'add-water');
  return [
    'current-off',
    'protect-yourself',
    ...(caustic ? (['caustic-into-water', 'caustic-and-metals'] as const) : []),
    ...(acid ? (['acid-into-water'] as const) : []),
    ...(watered ? (['water-into-strong'] as const) : []),
    ...(steps.some((step) => step.portions > 1) ? (['heat-rise'] as const) : []),
    ...(temperatureC + (riseK ?? 0) > boilingC - boilingMarginK ? (['near-boiling'] as const) : []),
  ];
}
