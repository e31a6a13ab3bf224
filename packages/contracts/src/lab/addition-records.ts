import { z } from 'zod';
import { Money, Id, Instant } from '../kernel/scalars.ts';

/** What can be done to a bath between its analyses; `make-up` is its first filling. */
export const AdditionKind = z.enum(['make-up', 'chemical', 'water', 'decant', 'filter', 'dye', 'electrode']);
export type AdditionKind = z.output<typeof AdditionKind>;
export const additionKindNames: Record<AdditionKind, string> = {
  'make-up': 'make-up',
  chemical: 'addition of chemicals',
  water: 'water for evaporation',
  decant: 'decant',
  filter: 'filtering',
  dye: 'addition of dye',
  electrode: 'electrode work',
};
export const AdditionState = z.enum(['planned', 'done', 'withdrawn', 'corrected']);
export type AdditionState = z.output<typeof AdditionState>;

export const AdditionSummary = z
  .object({
    id: Id,
    number: z.string(),
    bathId: Id,
    bathNumber: z.string(),
    tankCode: z.string(),
    kind: AdditionKind,
    state: AdditionState,
    plannedBy: z.string(),
    plannedAt: Instant,
    doneBy: z.string().nullable(),
    /** When it was finished. */
    doneAt: Instant.nullable(),
    /** `decant 9.4 L, add 22.4 kg SA-96 lot 4711`. */
    words: z.string(),
    cost: Money.nullable(),
    fromAnalysis: z.object({ id: Id, number: z.string() }).nullable(),
  })
  .meta({ id: 'AdditionSummary' });
export type AdditionSummary = z.output<typeof AdditionSummary>;
