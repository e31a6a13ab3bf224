import type { AdditionCaution } from '../bath/addition/cautions.ts';
import { type AdditionPlan, type AdditionRefusal, planAddition } from '../bath/addition/plan-addition.ts';
import type { AdditionStep } from '../bath/addition/steps.ts';
import { checkFinite } from '../check.ts';
import { topUpEvaporation } from '../bath/evaporation-top-up.ts';
import type { Solute } from '../bath/solutes.ts';

/** An addition as somebody asks for it on a form: what is not said is null. */
export interface StrengthRequest {
  solute: Solute;
  volumeL: number;
  fullVolumeL: number;
  freeboardL: number;
  temperatureC: number;
  massFraction: number;
  densityRatio?: number | null | undefined;
  targetMassFraction: number | null;
  targetGramsPerLitre: number | null;
  referenceTemperatureC: number | null;
  fillToMark: boolean;
  impurity: { gramsPerLitre: number; targetGramsPerLitre: number } | null;
  coldestTemperatureC: number | null;
  uncertainty: { massFraction: number; volumeL: number } | null;
}

/** A top-up of evaporation; without a solute only litres of water are missing. */
export interface LevelRequest {
  solute: Solute | null;
  volumeL: number;
  fullVolumeL: number;
  temperatureC: number;
  massFractionWhenFull: number | null;
}

/** A lot of chemical as it stands on the shelf. */
export interface StockLot {
  id: number;
  form: 'solid' | 'liquid';
  assayMassFraction: number;
  impurityMassFraction: number;
  densityKgPerM3: number | null;
}

/** A step as it is written down, with the lot it takes from. */
export interface WrittenStep extends Omit<AdditionStep, 'bathAfter'> {
  chemicalLotId: number | null;
  note: string;
}

/**
 * The plan of an addition of one lot, and its steps as they are written down. The server stores what the page shows,
 * because both ask here.
 *
 * Ranges, refusals and errors are those of {@link planAddition}; a plan that is none has no steps. What a lot's assay
 * and impurity come to above the whole is taken off the impurity.
 * Source: {@link planAddition}.
 *
 * @example
 * const request = {
 *   solute: 'KOH', volumeL: 400, fullVolumeL: 400, freeboardL: 40, temperatureC: 60, massFraction: 0.47,
 *   targetMassFraction: 0.5, targetGramsPerLitre: null, referenceTemperatureC: null, fillToMark: false,
 *   impurity: null, coldestTemperatureC: null, uncertainty: { massFraction: 0, volumeL: 0 },
 * } as const;
 * const lot = { id: 7, form: 'solid', assayMassFraction: 0.9, impurityMassFraction: 0, densityKgPerM3: null } as const;
 * writtenAddition({ request, lot }).steps[0] // { action: 'add-stock', chemicalLotId: 7, kg: 43.482 }
 */
export function writtenAddition({ request, lot }: { request: StrengthRequest; lot: StockLot }): {
  plan: AdditionPlan | AdditionRefusal;
  steps: WrittenStep[];
} {
  checkFinite('lot', lot);
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
    ...(request.densityRatio == null ? {} : { densityRatio: request.densityRatio }),
    ...(targetMassFraction === null ? {} : { targetMassFraction }),
    ...(targetGramsPerLitre === null ? {} : { targetGramsPerLitre }),
    ...(referenceTemperatureC === null ? {} : { referenceTemperatureC }),
    ...(coldestTemperatureC === null ? {} : { coldestTemperatureC }),
    ...(request.impurity === null ? {} : { impurity: request.impurity }),
    ...(request.uncertainty === null ? {} : { uncertainty: request.uncertainty }),
  });
  const steps = plan.possible ? plan.steps.map((step) => written(step, lot.id)) : [];
  return { plan, steps };
}

const written = (step: AdditionStep, lotId: number): WrittenStep => {
  const { action, kg, volumeL, portions, riseK, expectedRiseK, heldBack } = step;
  const chemicalLotId = action === 'add-stock' ? lotId : null;
  return { action, chemicalLotId, kg, volumeL, portions, riseK, expectedRiseK, heldBack, note: '' };
};

/**
 * The water that brings a bath back to its mark, in the steps that are written down.
 *
 * With solute and strength when full it is {@link topUpEvaporation}, with its ranges and errors. Without them the missing
 * litres are taken for kilograms (water of 1 kg/L, common practice, no source), and how strong the low bath is is null.
 * Source: {@link topUpEvaporation}.
 *
 * @example
 * writtenTopUp({ solute: 'KOH', volumeL: 485, fullVolumeL: 500, temperatureC: 60, massFractionWhenFull: 0.5 })
 * // { massFractionNow: 0.51095 }
 */
export function writtenTopUp(request: LevelRequest): {
  steps: WrittenStep[];
  massFractionNow: number | null;
  cautions: AdditionCaution[];
  flags: string[];
} {
  const { solute, volumeL, fullVolumeL, temperatureC, massFractionWhenFull } = request;
  const missingL = Math.max(0, fullVolumeL - volumeL);
  const topUp =
    solute !== null && massFractionWhenFull !== null
      ? topUpEvaporation({ solute, volumeL, fullVolumeL, temperatureC, massFractionWhenFull })
      : { waterKg: missingL, waterL: missingL, massFractionNow: null, flags: [] };
  const { waterKg, waterL, massFractionNow, flags } = topUp;
  return {
    steps: [
      plainStep('add-water', waterKg, waterL),
      plainStep('mix-and-cool', 0, null),
      plainStep('analyse', 0, null),
    ],
    massFractionNow,
    cautions: ['current-off', 'protect-yourself', 'water-into-strong'],
    flags,
  };
}

const plainStep = (action: WrittenStep['action'], kg: number, volumeL: number | null): WrittenStep => ({
  action,
  chemicalLotId: null,
  kg,
  volumeL,
  portions: 1,
  riseK: null,
  expectedRiseK: null,
  heldBack: false,
  note: '',
});
