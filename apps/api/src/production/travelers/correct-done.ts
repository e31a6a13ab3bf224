import type { correctSignOff, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db } from '../../db/client.ts';
import { fieldError, orNotFound } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as done from './done-queries.ts';
import * as queries from './queries.ts';
import { holdLot } from './sign.ts';

/**
 * Appends to a signature made by mistake that the step was not done, or when it really was done. The signature stands as
 * it was given. A step that was not done puts its lot on hold: quality decides how it goes on, also after later steps.
 */
export function correctStepDone(
  db: Db,
  {
    actor,
    signOffId,
    input,
  }: { actor: Actor; signOffId: number; input: z.output<typeof correctSignOff.body> },
): Promise<Traveler> {
  return withSqlTransaction(db, async (execute) => {
    const step = orNotFound(await done.lockDone(execute, signOffId), `sign-off ${signOffId}`);
    const { reason } = input;
    const doneAt = input.doneAt === null ? null : new Date(input.doneAt);
    if (doneAt !== null && doneAt > step.now)
      throw fieldError('doneAt', 'is in the future by the server’s clock');
    if (doneAt !== null && doneAt < step.issuedAt)
      throw fieldError('doneAt', 'is before this traveler was issued');
    const stood = step.isNotDone ? null : step.doneAt;
    if (doneAt?.getTime() === stood?.getTime()) throw fieldError('doneAt', 'is what stands there already');
    await done.addDoneCorrection(execute, { signOffId, doneAt, reason, correctedById: actor.personId });
    const { position, title, lotId, lotNumber } = step;
    if (doneAt === null)
      await holdLot(execute, {
        ...{ signer: actor, lotId, lotNumber, signOffId },
        why: `Step ${position}, ${title}, was signed by mistake and not done. ${reason}`,
      });
    await writeAudit(execute, actor, {
      kind: 'lot',
      id: lotId,
      number: lotNumber,
      action:
        doneAt === null
          ? `corrected step ${position}, ${title}: it was not done`
          : `corrected when step ${position}, ${title}, was done`,
      changes: [{ field: 'doneAt', old: stood?.toISOString() ?? null, new: doneAt?.toISOString() ?? null }],
      reason,
    });
    return orNotFound(await queries.readTraveler(execute, step.travelerId), `traveler ${step.travelerId}`);
  });
}
