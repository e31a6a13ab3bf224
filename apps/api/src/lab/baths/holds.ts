import { releaseDoubts } from '@huelot/calc';
import {
  type BathHold,
  type placeBathHold,
  type releaseBathHold,
  releaseDoubtWords,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as holdQueries from './hold-queries.ts';
import { openBath } from './open-bath.ts';
import { lockBath } from './queries.ts';

const reread = async (execute: SqlExecutor, id: number): Promise<BathHold> =>
  holdQueries.toHold(orNotFound(await holdQueries.readHold(execute, id), `hold ${id}`));

/**
 * Puts a bath on hold from now. A plan that waits stays good: nothing was done to the bath yet, so its version
 * does not rise.
 */
export async function placeHold(
  db: Db,
  { actor, bathId, input }: { actor: Actor; bathId: number; input: z.output<typeof placeBathHold.body> },
): Promise<BathHold> {
  const { additionId, reason } = input;
  return inTransaction(db, async (tx) => {
    const bath = await openBath(tx.execute, bathId);
    if (additionId !== null) {
      const addition = await holdQueries.readNamed(tx.execute, { bathId, table: 'addition', id: additionId });
      if (addition === null) throw fieldError('additionId', 'is not an addition to this bath');
      if (!addition.counts) throw fieldError('additionId', `${addition.number} is not planned any more`);
      if ((await holdQueries.readHoldOfAddition(tx.execute, additionId)) !== null)
        throw new DomainError('conflict', `${bath.number} was put on hold for ${addition.number} already.`);
    }
    const id = await holdQueries.addHold(tx.execute, {
      bathId,
      additionId,
      reason,
      fromAt: new Date(),
      placedById: actor.personId,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: 'put on hold',
      reason,
    });
    return reread(tx.execute, id);
  });
}

/** A plan that was begun is withdrawn: nothing was added, so the hold that it put on the bath ends with it. */
export async function releaseWithdrawn(
  execute: SqlExecutor,
  {
    actor,
    addition,
    bath,
  }: { actor: Actor; addition: { id: number; number: string }; bath: { id: number; number: string } },
): Promise<void> {
  const hold = await holdQueries.readHoldOfAddition(execute, addition.id);
  if (hold === null || hold.releasedAt !== null) return;
  const note = `${addition.number} was withdrawn: nothing was added`;
  const figures = { temperatureC: null, mixedS: null, analysisId: null };
  await holdQueries.setReleased(execute, { id: hold.id, releasedById: actor.personId, ...figures, note });
  await writeAudit(execute, actor, {
    kind: 'bath',
    id: bath.id,
    number: bath.number,
    action: 'released',
    reason: note,
  });
}

/** Ends a hold. After an addition it is said how warm the bath is and how long it mixed; else why. */
export async function releaseHold(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: z.output<typeof releaseBathHold.body> },
): Promise<BathHold> {
  return inTransaction(db, async (tx) => {
    const { bathId } = orNotFound(await holdQueries.readHold(tx.execute, id), `hold ${id}`);
    await lockBath(tx.execute, bathId);
    const hold = orNotFound(await holdQueries.readHold(tx.execute, id), `hold ${id}`);
    if (hold.releasedAt !== null)
      throw new DomainError('immutable', `It was released already by ${hold.releasedBy ?? 'somebody'}.`);
    const bath = await openBath(tx.execute, bathId);
    if (hold.addition !== null && input.temperatureC === null)
      throw fieldError('temperatureC', 'must be filled in: how warm the bath is now');
    if (hold.addition !== null && input.mixedS === null)
      throw fieldError('mixedS', 'must be filled in: how long it mixed');
    if (hold.addition === null && input.note.trim() === '')
      throw fieldError('note', 'must be filled in: why work may go on');
    if (input.analysisId !== null) {
      const analysis = await holdQueries.readNamed(tx.execute, {
        bathId,
        table: 'analysis',
        id: input.analysisId,
      });
      if (analysis === null) throw fieldError('analysisId', 'is not an analysis of this bath');
      if (!analysis.counts) throw fieldError('analysisId', `${analysis.number} was corrected since`);
    }
    if (hold.addition !== null && input.note.trim() === '') {
      const doubts = await doubtsOf(tx.execute, { holdId: id, input });
      if (doubts.length > 0)
        throw fieldError('note', `is needed: ${doubts.join('; ')}. Say why work may go on all the same`);
    }
    await holdQueries.setReleased(tx.execute, { id, releasedById: actor.personId, ...input });
    await writeAudit(tx.execute, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: hold.addition === null ? 'released' : `released after ${hold.addition.number}`,
      changes: [
        { field: 'temperatureC', old: null, new: input.temperatureC },
        { field: 'mixedS', old: null, new: input.mixedS },
      ].filter((change) => change.new !== null),
      reason: input.note || null,
    });
    return reread(tx.execute, id);
  });
}

/** What speaks against a release after an addition, one sentence each. */
async function doubtsOf(
  execute: SqlExecutor,
  { holdId, input }: { holdId: number; input: z.output<typeof releaseBathHold.body> },
): Promise<string[]> {
  const { temperatureC, mixedS, analysisId } = input;
  if (temperatureC === null || mixedS === null) return [];
  const { minC, maxC, sampledAfterS } = await holdQueries.readReleaseLimits(execute, { holdId, analysisId });
  return releaseDoubts({ temperatureC, mixedS, minC, maxC, sampledAfterS }).map(releaseDoubtWords);
}
