import { may, type permitStep, type StepOverride } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { personOfPin } from '../../core/people/index.ts';
import { addOverride } from './floor-queries.ts';
import { refuseUnfilled, stateWords, readTankBathStatus } from './sign-bath.ts';
import { checkTurn } from './sign-checks.ts';
import * as signing from './sign-queries.ts';

/** Time to rack, fetch and sign beside the time in the tank itself. */
const HANDLING_S = 3600;

/**
 * Takes somebody's word that a step may run in a bath that is on hold, stopped or overdue. It is proved here and now,
 * before the load goes in, and is good for this step in this bath as it stands, for the time the step takes.
 */
export async function permit(
  db: Db,
  options: { actor: Actor; stepId: number; input: z.output<typeof permitStep.body> },
): Promise<StepOverride> {
  const { actor, stepId, input } = options;
  const by = input.by === null ? actor : await personOfPin(db, { ...input.by, actor, path: 'by.pin' });
  if (!may(by.roles, 'lab.override')) {
    throw new DomainError(
      'not-allowed',
      `${by.displayName} may not override a bath that is on hold, stopped or overdue.`,
      { issues: [{ path: 'by', message: 'must be somebody in planning, lab or quality' }] },
    );
  }
  return withSqlTransaction(db, async (execute) => {
    const step = orNotFound(await signing.lockStep(execute, stepId), `step ${stepId}`);
    checkTurn(step);
    const place =
      step.tankId === null
        ? null
        : await signing.readPlace(execute, { tankId: step.tankId, supplyId: step.supplyId });
    if (place === null || place.bathId === null || place.bathMadeUpAt === null)
      throw new DomainError('conflict', 'No bath stands in the tank of this step.');
    refuseUnfilled(place);
    const bath = { id: place.bathId, madeUpAt: place.bathMadeUpAt, isJudged: place.bathIsJudged };
    const status = await readTankBathStatus(execute, bath);
    if (status === null || !status.needsOverride)
      throw new DomainError('conflict', 'The bath may be used as it is: no override is needed.');
    const override = await addOverride(execute, {
      stepId,
      bathId: bath.id,
      bathState: status.state,
      reason: input.reason,
      grantedById: by.personId,
      askedById: actor.personId,
      validS: step.durationS + HANDLING_S,
    });
    await writeAudit(execute, by, {
      kind: 'lot',
      id: step.lotId,
      number: step.lotNumber,
      action: `let step ${step.position}, ${step.title}, run in a bath that is ${stateWords(status.state)}`,
      ...(by.personId === actor.personId
        ? {}
        : { changes: [{ field: 'station', old: null, new: actor.displayName }] }),
      reason: input.reason,
    });
    return override;
  });
}
