import {
  type AdditionCaution,
  type AdditionStep,
  CALC_VERSION,
  CalcError,
  planAddition,
  topUpEvaporation,
} from '@huelot/calc';
import {
  type AdditionRequest,
  cautionsOfAddition,
  type ComputedAddition,
  type PlannedStep,
} from '@huelot/contracts';
import { invalid } from '../../refusal.ts';
import type { LotRow } from '../chemicals/index.ts';

export interface ComputedWithCautions {
  computed: ComputedAddition;
  cautions: string[];
}

/** What the calculation answers to a request; what it cannot answer is refused with its place in the form. */
export function computeAddition(request: AdditionRequest, lot: LotRow | null): ComputedWithCautions {
  try {
    return request.type === 'level' ? byLevel(request) : byStrength(request, lot);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw invalid(`request.${error.argument}`, `is ${String(error.given)}; allowed: ${error.allowed}`);
  }
}

function byStrength(
  request: Extract<AdditionRequest, { type: 'strength' }>,
  lot: LotRow | null,
): ComputedWithCautions {
  if (lot === null)
    throw invalid('request.chemicalLotId', `there is no chemical lot ${request.chemicalLotId}`);
  if (lot.solute !== request.solute)
    throw invalid(
      'request.chemicalLotId',
      `${lot.chemicalCode} brings ${lot.solute ?? 'no solute on file'}, not ${request.solute}`,
    );
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
  if (!plan.possible) throw invalid('request.targetMassFraction', plan.explanation);
  const short = plan.stock.kg - lot.balanceKg;
  return {
    computed: {
      calcVersion: CALC_VERSION,
      steps: plan.steps.map((step) => plannedStep(step, lot.id)),
      bathBefore: plan.bathBefore,
      bathAfter: plan.bathAfter,
      temperatureRiseK: plan.temperatureRiseK,
      expectedRiseK: plan.expectedRiseK,
      uncertain: plan.uncertain,
      flags: [
        ...plan.flags,
        ...(short > 0 ? [`the lot is ${short.toFixed(1)} kg short: take the rest from another`] : []),
      ],
    },
    cautions: cautionsOfAddition(plan.cautions),
  };
}

const plannedStep = (step: AdditionStep, chemicalLotId: number): PlannedStep => ({
  action: step.action,
  chemicalLotId: step.action === 'add-stock' ? chemicalLotId : null,
  kg: step.kg,
  volumeL: step.volumeL,
  portions: step.portions,
  riseK: step.riseK,
  expectedRiseK: step.expectedRiseK,
  heldBack: step.heldBack,
  note: '',
});

const waterCautions: readonly AdditionCaution[] = ['current-off', 'protect-yourself', 'water-into-strong'];

function byLevel(request: Extract<AdditionRequest, { type: 'level' }>): ComputedWithCautions {
  const { solute, volumeL, fullVolumeL, temperatureC, massFractionWhenFull } = request;
  const known = solute !== null && massFractionWhenFull !== null;
  const topUp = known
    ? topUpEvaporation({ solute, volumeL, fullVolumeL, temperatureC, massFractionWhenFull })
    : { waterKg: Math.max(0, fullVolumeL - volumeL), waterL: Math.max(0, fullVolumeL - volumeL), flags: [] };
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
    computed: {
      calcVersion: CALC_VERSION,
      steps: [
        step('add-water', topUp.waterKg, topUp.waterL),
        step('mix-and-cool', 0, null),
        step('analyse', 0, null),
      ],
      bathBefore: null,
      bathAfter: null,
      temperatureRiseK: null,
      uncertain: false,
      flags: topUp.flags,
    },
    cautions: cautionsOfAddition(waterCautions),
  };
}
