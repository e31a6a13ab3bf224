import type { Bath, TankContents } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { checkVersion, found, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import * as queries from './queries.ts';

export const toBath = ({
  wasteVolumeL,
  wasteCategory,
  wasteDestination,
  wasteDocument,
  ...row
}: queries.BathRow): Bath => ({
  ...row,
  waste:
    wasteVolumeL === null || wasteCategory === null
      ? null
      : {
          volumeL: wasteVolumeL,
          category: wasteCategory,
          destination: wasteDestination ?? '',
          document: wasteDocument ?? '',
        },
  madeUpAt: row.madeUpAt.toISOString(),
  dumpedAt: row.dumpedAt?.toISOString() ?? null,
});

/** Starts a fill of an empty tank. It holds what the tank is for. */
export async function startBath(db: Db, of: { actor: Actor; tankId: number; notes: string }): Promise<Bath> {
  const { actor, tankId, notes } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockEquipment(tx.run, { table: 'tank', id: tankId });
    const tank = found(await queries.readTank(tx, tankId), `tank ${tankId}`);
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
    const bath = toBath(found(await queries.readBath(tx.run, id), `bath ${id}`));
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

/** Closes a fill for good. */
export async function dumpBath(
  db: Db,
  of: { actor: Actor; id: number; version: number; reason: string },
): Promise<Bath> {
  const { actor, id, version, reason } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockEquipment(tx.run, { table: 'bath', id });
    const before = toBath(found(await queries.readBath(tx.run, id), `bath ${id}`));
    if (before.dumpedAt !== null) {
      throw new Refusal('frozen', `${before.number} was dumped already: its record is closed.`);
    }
    checkVersion({ stored: before, version, what: before.number });
    await queries.closeBath(tx, { id, dumpedById: actor.personId, dumpReason: reason });
    await record(tx.run, actor, { kind: 'bath', id, number: before.number, action: 'dumped', reason });
    await record(tx.run, actor, {
      kind: 'tank',
      id: before.tankId,
      number: before.tankCode,
      action: `emptied of ${before.number}`,
      reason,
    });
    return toBath(found(await queries.readBath(tx.run, id), `bath ${id}`));
  });
}
