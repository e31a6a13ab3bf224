import { z } from 'zod';
import { Id, Instant } from '../kernel/scalars.ts';

/** What a signed step really was, written beside a signature made by mistake; the newest stands. */
export const DoneCorrection = z.object({
  id: Id,
  /** When the step was really done; null where it was not done. */
  doneAt: Instant.nullable(),
  reason: z.string(),
  by: z.string(),
  at: Instant,
});
export type DoneCorrection = z.output<typeof DoneCorrection>;

/**
 * When a signed step was done, after corrections; null where it was signed by mistake and not done.
 *
 * @example
 * standingDoneAt({ doneAt: '2026-11-29T09:00:00.000Z', doneCorrections: [] }) // '2026-11-29T09:00:00.000Z'
 */
export const standingDoneAt = (signOff: {
  doneAt: string;
  doneCorrections: readonly Pick<DoneCorrection, 'doneAt'>[];
}): string | null => {
  const corrected = signOff.doneCorrections.at(-1);
  return corrected === undefined ? signOff.doneAt : corrected.doneAt;
};
