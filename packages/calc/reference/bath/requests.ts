import { type AdditionPlan, planAddition } from '../../src/bath/addition/plan-addition.ts';
import type { AdditionRequest } from '../../src/bath/addition/request.ts';
import { massFractionFrom } from '../../src/bath/concentration.ts';

/** The plan of a request that must be possible. */
export function planned(request: AdditionRequest): AdditionPlan {
  const plan = planAddition(request);
  if (!plan.possible) throw new Error(plan.explanation);
  return plan;
}

/** Flake of the usual assay. */
export const flake = { form: 'solid', massFraction: 0.9 } as const;

/** Worked example A1: 400 L of KOH at 60 °C from 47 to 50 wt% with flake. */
export const a1 = {
  solute: 'KOH',
  volumeL: 400,
  fullVolumeL: 400,
  freeboardL: 30,
  temperatureC: 60,
  massFraction: 0.47,
  targetMassFraction: 0.5,
  stock: flake,
} as const;

/** Worked example A3: an anodizing bath of 1000 L from 160 to 180 g/L with 96 % acid. */
export const a3 = {
  solute: 'H2SO4',
  volumeL: 1000,
  fullVolumeL: 1000,
  freeboardL: 0,
  temperatureC: 20,
  massFraction: massFractionFrom({ solute: 'H2SO4', gramsPerLitre: 160, temperatureC: 20 }).massFraction,
  targetGramsPerLitre: 180,
  referenceTemperatureC: 20,
  stock: { form: 'liquid', massFraction: 0.96 },
} as const;
