import { z } from 'zod';
import { Instant } from '../kernel/scalars.ts';

/** `on-hold`: whatever its figures, until somebody releases it. `not-watched`: no components are watched in this bath, as in most rinses. */
export const BathState = z.enum(['in-range', 'watch', 'stop', 'on-hold', 'not-watched']);
export type BathState = z.output<typeof BathState>;
export const bathStateNames: Record<BathState, string> = {
  'in-range': 'in range',
  watch: 'watch',
  stop: 'stop',
  'on-hold': 'on hold',
  'not-watched': 'not watched',
};

/** What a bath may be used for at this moment, and why. */
export const BathStatus = z
  .object({
    state: BathState,
    /** An analysis is due that was not made: by plan, after an addition, or because somebody asked for it. */
    overdue: z.boolean(),
    /** On hold, stopped or overdue: a step is signed in it only with a named override and its reason. */
    needsOverride: z.boolean(),
    /** One sentence for each reason, the gravest first. */
    reasons: z.array(z.string()),
    /** When the next analysis is due by days; null when nothing is planned by days. */
    nextDueAt: Instant.nullable(),
  })
  .meta({ id: 'BathStatus' });
export type BathStatus = z.output<typeof BathStatus>;
