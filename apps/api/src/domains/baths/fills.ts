import type { Bath, dumpBath as dumpContract, TankContents } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { lockEquipment, readTank } from '../tanks/index.ts';
import * as queries from './queries.ts';
import * as setupQueries from './setup-queries.ts';

/** Starts a fill of an empty tank. It holds what the tank is for and is watched as the fill before it was. */
export async function startBath(db: Db, of: { actor: Actor; tankId: number; notes: string }): Promise<Bath> {
  const { actor, tankId, notes } = of;
  return inTransaction(db, async (tx) => {
    await lockEquipment(tx.run, { table: 'tank', id: tankId });
    const tank = found(await readTank(tx, tankId), `tank ${tankId}`);
    const [open] = tank.baths;
    if (open !== undefined) {
      throw new Refusal('conflict', `${open.number} stands in tank ${tank.code}: dump it before a new fill.`);
    }
    if (tank.archivedAt !== null) {
      throw new Refusal('conflict', `Tank ${tank.code} is archived: put it back in use before filling it.`);
    }
    if (tank.contents === 'air') {
      throw new Refusal('conflict', `Tank ${tank.code} is a ${tank.kind}: nothing is filled into it.`);
    }
    const { id } = await queries.addBath(tx, {
      number: await nextNumber(tx.run, 'bath'),
      tankId,
      contents: tank.contents as TankContents,
      madeUpById: actor.personId,
      notes,
    });
    const setup = await setupQueries.readSetupBefore(tx.run, id);
    if (setup !== null) {
      await setupQueries.addSetup(tx.run, {
        bathId: id,
        revision: 1,
        setup,
        reason: 'as the fill before it',
        setById: actor.personId,
      });
      if (setup.components.length > 0)
        await setupQueries.addRequest(tx.run, {
          bathId: id,
          why: 'make-up',
          components: [],
          dueAt: new Date(),
          additionId: null,
          note: '',
          askedById: actor.personId,
        });
    }
    const bath = queries.toBath(found(await queries.readBath(tx.run, id), `bath ${id}`));
    await record(tx.run, actor, {
      kind: 'bath',
      id,
      number: bath.number,
      action: `started in tank ${tank.code}`,
    });
    await record(tx.run, actor, {
      kind: 'tank',
      id: tankId,
      number: tank.code,
      action: `filled with ${bath.number}`,
    });
    return bath;
  });
}

/** Closes a fill for good. Of one that is watched it must be said where it went. */
export async function dumpBath(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: z.output<typeof dumpContract.body> },
): Promise<Bath> {
  const { actor, id, version } = of;
  const { reason, waste = null } = of.input;
  return inTransaction(db, async (tx) => {
    await queries.lockBath(tx.run, id);
    const before = queries.toBath(found(await queries.readBath(tx.run, id), `bath ${id}`));
    if (before.dumpedAt !== null) {
      throw new Refusal('frozen', `${before.number} was dumped already: its record is closed.`);
    }
    checkVersion({ stored: before, version, what: before.number });
    const setup = (await setupQueries.readSetupsOf(tx.run, [id])).get(id);
    if (waste === null && setup !== undefined && setup.components.length > 0)
      throw invalid('waste', 'must be filled in: how much it was, of what kind, and where it went');
    await queries.endWhatWaits(tx.run, { bathId: id, personId: actor.personId });
    await queries.closeBath(tx, { id, dumpedById: actor.personId, dumpReason: reason, waste });
    const told = { kind: 'bath', id, number: before.number, action: 'dumped', reason } as const;
    await record(tx.run, actor, {
      ...told,
      ...(waste === null ? {} : { changes: [{ field: 'waste', old: null, new: waste }] }),
    });
    await record(tx.run, actor, {
      kind: 'tank',
      id: before.tankId,
      number: before.tankCode,
      action: `emptied of ${before.number}`,
      reason,
    });
    return queries.toBath(found(await queries.readBath(tx.run, id), `bath ${id}`));
  });
}
