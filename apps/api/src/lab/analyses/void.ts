import type { Analysis } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { addRequest, lockBath, readBath, bumpBathVersion } from '../baths/index.ts';
import { readAnalysis } from './queries.ts';
import { viewAnalysis } from './view.ts';
import * as writing from './write-queries.ts';

/**
 * Takes an analysis out of everything that is judged or planned by it: the sample was of another bath, or an import was
 * wrong. The record stays, and what it answered is asked for again while the bath stands.
 */
export function voidAnalysis(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<Analysis> {
  return inTransaction(db, async (tx) => {
    const bathId = orNotFound(await readAnalysis(tx.execute, id), `analysis ${id}`).bath.id;
    await lockBath(tx.execute, bathId);
    const row = orNotFound(await readAnalysis(tx.execute, id), `analysis ${id}`);
    if (row.voidedAt !== null)
      throw new DomainError(
        'immutable',
        `${row.number} was voided already by ${row.voidedBy ?? 'somebody'}.`,
      );
    if (row.supersededBy !== null)
      throw new DomainError(
        'conflict',
        `${row.number} was corrected by ${row.supersededBy.number}: void that one.`,
      );
    await writing.voidAnalysis(tx.execute, { id, personId: actor.personId, reason });
    const bath = orNotFound(await readBath(tx.execute, bathId), `bath ${bathId}`);
    if (bath.dumpedAt === null)
      for (const answered of await writing.readAnswered(tx.execute, id))
        await addRequest(tx.execute, { ...answered, bathId, dueAt: new Date(), askedById: actor.personId });
    await bumpBathVersion(tx.execute, bathId);
    await writeAudit(tx.execute, actor, {
      kind: 'analysis',
      id,
      number: row.number,
      action: 'voided',
      reason,
    });
    return viewAnalysis(tx.execute, id);
  });
}
