import type { GoodsReturn, recordReturn } from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { lockNote, readNote } from './queries.ts';
import * as queries from './return-queries.ts';

/** Records pieces of a delivery that came back: no more than went out, and no earlier. */
export function addReturn(
  db: Db,
  { actor, noteId, input }: { actor: Actor; noteId: number; input: z.output<typeof recordReturn.body> },
): Promise<{ items: GoodsReturn[] }> {
  return inTransaction(db, async (tx) => {
    await lockNote(tx.execute, noteId);
    const note = orNotFound(await readNote(tx.execute, noteId), `delivery note ${noteId}`);
    if (note.state === 'withdrawn')
      throw new DomainError('conflict', `${note.number} was withdrawn: record it on the note that went out.`);
    const { shipmentId, quantity, returnedOn, reason } = input;
    const went = await queries.lockReturnable(tx.execute, { noteId, shipmentId });
    if (went === null) throw fieldError('shipmentId', `must be a shipment of ${note.number}`);
    const left = went.quantity - went.returned;
    if (quantity > left)
      throw fieldError(
        'quantity',
        `must be at most ${left}, the pieces of ${went.number} that have not come back`,
      );
    if (returnedOn < went.shippedOn || returnedOn > went.today)
      throw fieldError('returnedOn', `must be a day from ${went.shippedOn}, when it was shipped, to today`);
    await queries.addReturn(tx, { ...input, noteId, recordedById: actor.personId });
    const action = `recorded ${quantity} pieces of ${went.number} as returned`;
    await writeAudit(tx.execute, actor, {
      kind: 'delivery-note',
      id: noteId,
      number: note.number,
      action,
      reason,
    });
    await writeAudit(tx.execute, actor, { kind: 'lot', id: went.lotId, number: went.lot, action, reason });
    return { items: await queries.readReturnsOfNote(tx.execute, noteId) };
  });
}

/** Takes back a return that was recorded by mistake. */
export function removeReturn(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<{ items: GoodsReturn[] }> {
  return inTransaction(db, async (tx) => {
    await queries.lockReturn(tx.execute, id);
    const row = orNotFound(await queries.readReturn(tx.execute, id), `return ${id}`);
    if (row.withdrawn !== null) throw new DomainError('conflict', 'This return was taken back already.');
    await queries.withdrawReturn(tx, id, { personId: actor.personId, reason });
    const note = orNotFound(await readNote(tx.execute, row.noteId), `delivery note ${row.noteId}`);
    const action = `took back the return of ${row.quantity} pieces of ${row.shipment.number}`;
    await writeAudit(tx.execute, actor, {
      kind: 'delivery-note',
      id: note.id,
      number: note.number,
      action,
      reason,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id: row.lot.id,
      number: row.lot.number,
      action,
      reason,
    });
    return { items: await queries.readReturnsOfNote(tx.execute, row.noteId) };
  });
}
