import type { correctCounts, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db } from '../../db/client.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as counts from './count-queries.ts';
import * as queries from './queries.ts';

/**
 * Appends the right counts beside those of a signed step. They stand as they were signed; the next step, the lot and the
 * final check go by the correction. Once the next step is signed, it says itself what it found.
 */
export function correctStepCounts(
  db: Db,
  {
    actor,
    signOffId,
    input,
  }: {
    actor: Actor;
    signOffId: number;
    input: z.output<typeof correctCounts.body>;
  },
): Promise<Traveler> {
  return withSqlTransaction(db, async (execute) => {
    const step = orNotFound(await counts.lockCounts(execute, signOffId), `sign-off ${signOffId}`);
    const { rejectCount, countDifference, reason } = input;
    if (step.laterPosition !== null)
      throw new DomainError(
        'conflict',
        `Step ${step.laterPosition} is signed already: say there what was found, missing or surplus, or in the step after it.`,
      );
    if (step.isChecked)
      throw new DomainError(
        'conflict',
        `The final check of ${step.lotNumber} has decided about its pieces already.`,
      );
    const countOut = step.countIn + countDifference - rejectCount;
    if (countOut < 0)
      throw fieldError(
        'rejectCount',
        `must be 0 to ${step.countIn + countDifference}: so many were on the rack`,
      );
    if (countOut + rejectCount > step.travelerCount)
      throw fieldError(
        'countDifference',
        `makes ${countOut + rejectCount} pieces; the traveler is for ${step.travelerCount}`,
      );
    if (countOut === step.countOut && rejectCount === step.rejectCount)
      throw fieldError('rejectCount', 'is what stands there already');
    await counts.addCountCorrection(execute, {
      signOffId,
      countOut,
      rejectCount,
      countDifference,
      reason,
      correctedById: actor.personId,
    });
    await counts.moveRejected(execute, { lotId: step.lotId, by: rejectCount - step.rejectCount });
    await writeAudit(execute, actor, {
      kind: 'lot',
      id: step.lotId,
      number: step.lotNumber,
      action: `corrected the pieces of step ${step.position}, ${step.title}`,
      changes: [
        { field: 'countOut', old: step.countOut, new: countOut },
        { field: 'rejectCount', old: step.rejectCount, new: rejectCount },
      ],
      reason,
    });
    return orNotFound(await queries.readTraveler(execute, step.travelerId), `traveler ${step.travelerId}`);
  });
}
