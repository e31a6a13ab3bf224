import type { Part } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { Refusal, found } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { getPart, toPart } from './part.ts';
import * as queries from './queries.ts';

/** Takes a part off the lists or puts it back. Nothing happens when it is there already. */
export async function setArchived(
  db: Db,
  of: { actor: Actor; id: number; archived: boolean },
): Promise<Part> {
  const { actor, id, archived } = of;
  return inTransaction(db, async (tx) => {
    const before = found(await queries.lockPart(tx.run, id), `part ${id}`);
    if ((before.archivedAt !== null) === archived) return toPart(tx.run, before);
    const open = archived ? await queries.countOpenOrderLines(tx.run, id) : 0;
    if (open > 0) {
      throw new Refusal('in-use', `Part ${before.number} is on an open order: finish or cancel it first.`);
    }
    if (!archived && before.customer.archived) {
      throw new Refusal('conflict', `${before.customer.name} is archived: take the customer out first.`);
    }
    await queries.changePart(tx, id, { archivedAt: archived ? new Date() : null });
    const action = archived ? 'archived' : 'took out of the archive';
    await record(tx.run, actor, { kind: 'part', id, number: before.number, action });
    return getPart(tx.run, id);
  });
}
