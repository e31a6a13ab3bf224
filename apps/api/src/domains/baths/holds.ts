import type { BathHold, placeBathHold, releaseBathHold } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Run } from '../../db/client.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import * as holdQueries from './hold-queries.ts';
import { openBath } from './open-bath.ts';
import { lockBath } from './queries.ts';

const reread = async (run: Run, id: number): Promise<BathHold> =>
  holdQueries.toHold(found(await holdQueries.readHold(run, id), `hold ${id}`));

/**
 * Puts a bath on hold from now. A plan that waits stays good: nothing was done to the bath yet, so its version
 * does not rise.
 */
export async function placeHold(
  db: Db,
  of: { actor: Actor; bathId: number; input: z.output<typeof placeBathHold.body> },
): Promise<BathHold> {
  const { actor, bathId, input } = of;
  const { additionId, reason } = input;
  return inTransaction(db, async (tx) => {
    const bath = await openBath(tx.run, bathId);
    if (additionId !== null) {
      const addition = await holdQueries.readNamed(tx.run, { bathId, table: 'addition', id: additionId });
      if (addition === null) throw invalid('additionId', 'is no addition of this bath');
      if (!addition.counts) throw invalid('additionId', `${addition.number} is not planned any more`);
      if ((await holdQueries.readHoldOfAddition(tx.run, additionId)) !== null)
        throw new Refusal('conflict', `${bath.number} was put on hold for ${addition.number} already.`);
    }
    const id = await holdQueries.addHold(tx.run, {
      bathId,
      additionId,
      reason,
      fromAt: new Date(),
      placedById: actor.personId,
    });
    await record(tx.run, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: 'put on hold',
      reason,
    });
    return reread(tx.run, id);
  });
}

/** A plan that was begun is withdrawn: nothing was added, so the hold that it put on the bath ends with it. */
export async function releaseWithdrawn(
  run: Run,
  of: { actor: Actor; addition: { id: number; number: string }; bath: { id: number; number: string } },
): Promise<void> {
  const { actor, addition, bath } = of;
  const hold = await holdQueries.readHoldOfAddition(run, addition.id);
  if (hold === null || hold.releasedAt !== null) return;
  const note = `${addition.number} was withdrawn: nothing was added`;
  const figures = { temperatureC: null, mixedS: null, analysisId: null };
  await holdQueries.setReleased(run, { id: hold.id, releasedById: actor.personId, ...figures, note });
  await record(run, actor, {
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
  of: { actor: Actor; id: number; input: z.output<typeof releaseBathHold.body> },
): Promise<BathHold> {
  const { actor, id, input } = of;
  return inTransaction(db, async (tx) => {
    const { bathId } = found(await holdQueries.readHold(tx.run, id), `hold ${id}`);
    await lockBath(tx.run, bathId);
    const hold = found(await holdQueries.readHold(tx.run, id), `hold ${id}`);
    if (hold.releasedAt !== null)
      throw new Refusal('frozen', `It was released already by ${hold.releasedBy ?? 'somebody'}.`);
    const bath = await openBath(tx.run, bathId);
    if (hold.addition !== null && input.temperatureC === null)
      throw invalid('temperatureC', 'must be filled in: how warm the bath is now');
    if (hold.addition !== null && input.mixedS === null)
      throw invalid('mixedS', 'must be filled in: how long it mixed');
    if (hold.addition === null && input.note.trim() === '')
      throw invalid('note', 'must be filled in: why work may go on');
    if (input.analysisId !== null) {
      const analysis = await holdQueries.readNamed(tx.run, {
        bathId,
        table: 'analysis',
        id: input.analysisId,
      });
      if (analysis === null) throw invalid('analysisId', 'is no analysis of this bath');
      if (!analysis.counts) throw invalid('analysisId', `${analysis.number} was corrected since`);
    }
    await holdQueries.setReleased(tx.run, { id, releasedById: actor.personId, ...input });
    await record(tx.run, actor, {
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
    return reread(tx.run, id);
  });
}
