import type { Part } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { DomainError, orNotFound } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { getPart, toPart } from './part.ts';
import * as queries from './queries.ts';

/** Takes a part off the lists or puts it back. Nothing happens when it is there already. */
export async function setArchived(
  db: Db,
  { actor, id, archived }: { actor: Actor; id: number; archived: boolean },
): Promise<Part> {
  return inTransaction(db, async (tx) => {
    const before = orNotFound(await queries.lockPart(tx.execute, id), `part ${id}`);
    if ((before.archivedAt !== null) === archived) return toPart(tx.execute, before);
    const open = archived ? await queries.countOpenOrderLines(tx.execute, id) : 0;
    if (open > 0) {
      throw new DomainError(
        'in-use',
        `Part ${before.number} is on an open order: finish or cancel it first.`,
      );
    }
    if (!archived && before.customer.archived) {
      throw new DomainError('conflict', `${before.customer.name} is archived: restore the customer first.`);
    }
    await queries.changePart(tx, id, { archivedAt: archived ? new Date() : null });
    const action = archived ? 'archived' : 'restored from the archive';
    await writeAudit(tx.execute, actor, { kind: 'part', id, number: before.number, action });
    return getPart(tx.execute, id);
  });
}
