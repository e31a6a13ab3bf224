import { z } from 'zod';
import { Solute } from './chemicals.ts';
import { TemperatureC } from './lab-scalars.ts';
import { Id, Positive, Quantity, Text } from '../kernel/scalars.ts';

/** What an addition is computed from: a strength to reach, or a level to restore. */
export const AdditionRequest = z.discriminatedUnion('type', [
  z.strictObject({
    type: z.literal('strength'),
    solute: Solute,
    /** What stands in the tank now; 0 for a make-up. */
    volumeL: Quantity(1e6),
    fullVolumeL: Positive(1e6),
    freeboardL: Quantity(1e6),
    temperatureC: TemperatureC,
    massFraction: z.number().min(0).lt(1),
    /** How many times as heavy as the solute's own solution the bath is, by its sample; 1 where nothing is said. */
    densityRatio: z.number().min(0.8).max(1.3).nullable().optional(),
    /** The aim as a mass fraction, or in g/L with the temperature it is meant at: one of the two. */
    targetMassFraction: z.number().gt(0).lt(1).nullable(),
    targetGramsPerLitre: Positive(2000).nullable(),
    referenceTemperatureC: TemperatureC.nullable(),
    chemicalLotId: Id,
    fillToMark: z.boolean(),
    impurity: z
      .strictObject({ gramsPerLitre: Quantity(1000), targetGramsPerLitre: Positive(1000) })
      .nullable(),
    coldestTemperatureC: TemperatureC.nullable(),
    uncertainty: z.strictObject({ massFraction: Quantity(0.5), volumeL: Quantity(1e6) }).nullable(),
  }),
  z.strictObject({
    type: z.literal('level'),
    /** Null where only litres of water are missing. */
    solute: Solute.nullable(),
    volumeL: Quantity(1e6),
    fullVolumeL: Positive(1e6),
    temperatureC: TemperatureC,
    massFractionWhenFull: z.number().gt(0).lt(1).nullable(),
  }),
]);
export type AdditionRequest = z.output<typeof AdditionRequest>;

export const StepAction = z.enum([
  'decant',
  'add-water',
  'add-stock',
  'mix-and-cool',
  'analyse',
  'filter',
  'electrode',
]);
export type StepAction = z.output<typeof StepAction>;

/** One thing to do at the tank. */
export const PlannedStep = z.object({
  action: StepAction,
  chemicalLotId: Id.nullable(),
  kg: Quantity(1e6),
  /** Null for a solid. */
  volumeL: Quantity(1e6).nullable(),
  portions: z.int().min(1).max(1000),
  /** To expect at most; null where it is not known. */
  riseK: z.number().nullable(),
  /** About what to expect, an estimate; null where there is none, absent from plans made before it was reckoned. */
  expectedRiseK: z.number().nullish(),
  /** To be planned again from the analysis before it. */
  heldBack: z.boolean(),
  note: Text(300),
});
export type PlannedStep = z.output<typeof PlannedStep>;

const BathFigures = z.object({
  kg: z.number(),
  volumeL: z.number(),
  massFraction: z.number(),
  gramsPerLitre: z.number(),
  impurityGramsPerLitre: z.number().nullable(),
});
/** What the calculation answered when the addition was planned. */
export const ComputedAddition = z.object({
  calcVersion: z.string(),
  steps: z.array(PlannedStep),
  bathBefore: BathFigures.nullable(),
  bathAfter: BathFigures.nullable(),
  /** All at once, at most and about. */
  temperatureRiseK: z.number().nullable(),
  expectedRiseK: z.number().nullish(),
  uncertain: z.boolean(),
  flags: z.array(z.string()),
});
export type ComputedAddition = z.output<typeof ComputedAddition>;
