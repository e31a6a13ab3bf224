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

/** A2: an alkaline bath from 20 to 25 wt% with liquor. */
export const a2 = {
  solute: 'NaOH',
  volumeL: 600,
  fullVolumeL: 600,
  freeboardL: 150,
  temperatureC: 25,
  massFraction: 0.2,
  targetMassFraction: 0.25,
  stock: { form: 'liquid', massFraction: 0.5, temperatureC: 25 },
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

/** A3 where the tank may stand 20 L above its mark. */
export const a3Free = { ...a3, freeboardL: 20 } as const;

/** A4: too strong, brought down with water. */
export const a4 = { ...a1, massFraction: 0.515 } as const;

/** A5: carbonate cut by a dump and fresh liquor. */
export const a5 = {
  ...a1,
  massFraction: 0.5,
  impurity: { gramsPerLitre: 60, targetGramsPerLitre: 25 },
} as const;

/** A6: what evaporated, by the level. */
export const a6 = {
  solute: 'KOH',
  fullVolumeL: 500,
  volumeL: 485,
  massFractionWhenFull: 0.5,
  temperatureC: 60,
} as const;

/** A7: below its mark, and no litre above it allowed. */
export const a7From380 = { ...a1, freeboardL: 0, volumeL: 380, massFraction: 0.465 } as const;
export const a7From395 = { ...a1, freeboardL: 0, volumeL: 395 } as const;

/** A8: heat of flake in a strong bath. */
export const a8 = {
  solute: 'KOH',
  stock: flake,
  stockKg: 10,
  bath: { kg: 1000, massFraction: 0.45, temperatureC: 60 },
} as const;

/** A9: heat of pellets in water. */
export const a9 = {
  solute: 'NaOH',
  stock: { form: 'solid', massFraction: 1 },
  stockKg: 25,
  bath: { kg: 400, massFraction: 0, temperatureC: 20 },
} as const;

/** A bath of 50 wt% made up from solid and water at once. */
export const madeUpAtOnce = {
  ...a1,
  volumeL: 0,
  massFraction: 0,
  temperatureC: 20,
  stock: { ...flake, massFraction: 1 },
} as const;
