import {
  type AdditionPlan,
  type AdditionStep,
  bleedAndFeed,
  CalcError,
  planAddition,
  topUpEvaporation,
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
    return { state: 'impossible', path: `request.${error.argument}`, words: `allowed: ${error.allowed}` };
  }
}

function byStrength(
  request: Extract<AdditionRequest, { type: 'strength' }>,
  lot: ChemicalLot | undefined,
): LivePlan {
  if (lot === undefined) return { state: 'incomplete' };
  const { targetMassFraction, targetGramsPerLitre, referenceTemperatureC, coldestTemperatureC } = request;
  const plan = planAddition({
    solute: request.solute,
    volumeL: request.volumeL,
    fullVolumeL: request.fullVolumeL,
    freeboardL: request.freeboardL,
    temperatureC: request.temperatureC,
    massFraction: request.massFraction,
    fillToMark: request.fillToMark,
    stock: {
      form: lot.form,
      massFraction: lot.assayMassFraction,
      impurityMassFraction: Math.min(lot.impurityMassFraction, 1 - lot.assayMassFraction),
      ...(lot.form === 'liquid' && lot.densityKgPerM3 !== null ? { densityKgPerM3: lot.densityKgPerM3 } : {}),
    },
    ...(targetMassFraction === null ? {} : { targetMassFraction }),
    ...(targetGramsPerLitre === null ? {} : { targetGramsPerLitre }),
    ...(referenceTemperatureC === null ? {} : { referenceTemperatureC }),
    ...(coldestTemperatureC === null ? {} : { coldestTemperatureC }),
    ...(request.impurity === null ? {} : { impurity: request.impurity }),
    ...(request.uncertainty === null ? {} : { uncertainty: request.uncertainty }),
  });
  if (!plan.possible) return { state: 'refused', words: plan.explanation, flags: plan.flags };
  return {
    state: 'known',
    steps: plan.steps.map((step) => plannedStep(step, lot.id)),
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

const plannedStep = (step: AdditionStep, lotId: number): PlannedStep => ({
  action: step.action,
  chemicalLotId: step.action === 'add-stock' ? lotId : null,
  kg: step.kg,
  volumeL: step.volumeL,
  portions: step.portions,
  riseK: step.riseK,
  expectedRiseK: step.expectedRiseK,
  heldBack: step.heldBack,
  note: '',
});

function byLevel(request: Extract<AdditionRequest, { type: 'level' }>): LivePlan {
  const { solute, volumeL, fullVolumeL, temperatureC, massFractionWhenFull } = request;
  const missingL = Math.max(0, fullVolumeL - volumeL);
  const topUp =
    solute !== null && massFractionWhenFull !== null
      ? topUpEvaporation({ solute, volumeL, fullVolumeL, temperatureC, massFractionWhenFull })
      : { waterKg: missingL, waterL: missingL, massFractionNow: null, flags: [] };
  const step = (action: PlannedStep['action'], kg: number, litres: number | null): PlannedStep => ({
    action,
    chemicalLotId: null,
    kg,
    volumeL: litres,
    portions: 1,
    riseK: null,
    heldBack: false,
    note: '',
  });
  return {
    state: 'known',
    steps: [
      step('add-water', topUp.waterKg, topUp.waterL),
      step('mix-and-cool', 0, null),
      step('analyse', 0, null),
    ],
    cautions: cautionsOfAddition(['current-off', 'protect-yourself', 'water-into-strong']),
    flags: topUp.flags,
    plan: null,
    massFractionNow: topUp.massFractionNow,
    exchange: null,
  };
}
