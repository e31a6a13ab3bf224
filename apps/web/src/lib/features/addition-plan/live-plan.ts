import {
  type AdditionPlan,
  bleedAndFeed,
  CalcError,
  faultWords,
  writtenAddition,
  writtenTopUp,
} from '@huelot/calc';
import { AdditionRequest, cautionsOfAddition, type ChemicalLot, type PlannedStep } from '@huelot/contracts';
import type { TypedRequest } from './plan-form.ts';

export interface ComputedPlan {
  state: 'known';
  steps: PlannedStep[];
  cautions: string[];
  flags: string[];
  /** With what stands in the tank before and after; null for a top-up by level. */
  plan: AdditionPlan | null;
  /** How strong the low bath is, for a top-up. */
  massFractionNow: number | null;
  /** What an impurity is cut by: a share dumped at once, or the liquor that a slow bleed takes; null where none is. */
  exchange: { share: number; volumes: number; feedL: number } | null;
}
export type LivePlan =
  | { state: 'incomplete' }
  | { state: 'impossible'; path: string; words: string }
  /** The calculation says that this is no plan, in plain words. */
  | { state: 'refused'; words: string; flags: string[] }
  | ComputedPlan;

/** What a typed request comes to, worked out as the server will. */
export function livePlan(typed: TypedRequest, lot: ChemicalLot | undefined): LivePlan {
  const parsed = AdditionRequest.safeParse(typed);
  if (!parsed.success) return { state: 'incomplete' };
  try {
    return parsed.data.type === 'level' ? byLevel(parsed.data) : byStrength(parsed.data, lot);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return { state: 'impossible', path: `request.${error.path}`, words: faultWords(error) };
  }
}

function byStrength(
  request: Extract<AdditionRequest, { type: 'strength' }>,
  lot: ChemicalLot | undefined,
): LivePlan {
  if (lot === undefined) return { state: 'incomplete' };
  const { plan, steps } = writtenAddition({ request, lot });
  if (!plan.possible) return { state: 'refused', words: plan.explanation, flags: plan.flags };
  return {
    state: 'known',
    steps,
    cautions: cautionsOfAddition(plan.cautions),
    flags: plan.flags,
    plan,
    massFractionNow: null,
    exchange: exchangeOf(request, plan),
  };
}

function exchangeOf(
  { impurity, volumeL }: Extract<AdditionRequest, { type: 'strength' }>,
  { decant }: AdditionPlan,
): ComputedPlan['exchange'] {
  if (impurity === null || decant.volumeL === null || decant.kg === 0) return null;
  const { volumes, feedL } = bleedAndFeed({ ...impurity, volumeL });
  return { share: decant.volumeL / volumeL, volumes, feedL };
}

function byLevel(request: Extract<AdditionRequest, { type: 'level' }>): LivePlan {
  const { cautions, ...topUp } = writtenTopUp(request);
  return { state: 'known', ...topUp, cautions: cautionsOfAddition(cautions), plan: null, exchange: null };
}
