import { z } from 'zod';
import { BathState } from '../lab/bath-status.ts';
import { InstrumentFault } from '../lab/instruments.ts';
import { Count, Id, Instant, Line, Text } from '../kernel/scalars.ts';
import { StepQuantity } from '../catalog/steps.ts';

/** A figure of a step as somebody read it, in SI. */
export const TypedReading = z.strictObject({
  quantity: StepQuantity,
  value: z.number().min(-1e9).max(1e9),
  /** In words, where the register does not know it. */
  instrument: Text(60),
  /** Of the register of instruments; absent in what a tablet kept before there was one. */
  instrumentId: Id.nullish(),
});

/** Pieces found more (+) or fewer (−) than came from the previous step. */
export const CountDifference = z.int().min(-1_000_000).max(1_000_000);

/** What reads a figure of a step at its tank, or of its power supply. */
export const PlacedInstrument = z.object({
  quantity: StepQuantity,
  id: Id,
  code: z.string(),
  name: z.string(),
  /** As it stands today; a reading keeps how it was when it was read. */
  fault: InstrumentFault.nullable(),
});
export type PlacedInstrument = z.output<typeof PlacedInstrument>;

/** When the load of a step went in and came out, by the clock of the server. */
export const StepRun = z.object({
  inAt: Instant,
  inBy: z.string(),
  outAt: Instant.nullable(),
  outBy: z.string().nullable(),
});
export type StepRun = z.output<typeof StepRun>;

/** What somebody typed at a step and has not signed yet. */
export const StepDraft = z.strictObject({
  readings: z.array(TypedReading.extend({ value: TypedReading.shape.value.nullable() })).max(50),
  rejectCount: Count.nullable(),
  countDifference: CountDifference.nullable(),
  countReason: Text(500),
  reason: Text(500),
  note: Text(1000),
});
export type StepDraft = z.output<typeof StepDraft>;

export const KeptDraft = z.object({ personId: Id, person: z.string(), keptAt: Instant, draft: StepDraft });
export type KeptDraft = z.output<typeof KeptDraft>;

/** Somebody's proved word that one step may run in its bath as it stands: for that step, bath and state, once. */
export const StepOverride = z
  .object({ id: Id, by: z.string(), reason: Line(500), state: BathState, expiresAt: Instant })
  .meta({ id: 'StepOverride' });
export type StepOverride = z.output<typeof StepOverride>;
