import type { Analysis } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { lockBath } from '../baths/index.ts';
import { readAnalysis } from './queries.ts';
import { viewAnalysis } from './view.ts';
import * as writing from './write-queries.ts';

/** A second person stands by an analysis. */
export async function reviewAnalysis(db: Db, { actor, id }: { actor: Actor; id: number }): Promise<Analysis> {
  return inTransaction(db, async (tx) => {
    await lockBath(tx.execute, orNotFound(await readAnalysis(tx.execute, id), `analysis ${id}`).bath.id);
    const row = orNotFound(await readAnalysis(tx.execute, id), `analysis ${id}`);
    if (row.voidedAt !== null)
      throw new DomainError('immutable', `${row.number} was voided: there is nothing to review.`);
    if (row.reviewedAt !== null)
      throw new DomainError(
        'conflict',
        `${row.number} was reviewed already by ${row.reviewedBy ?? 'somebody'}.`,
      );
    if (row.analystId === actor.personId)
      throw new DomainError('not-allowed', 'Your own analysis is reviewed by somebody else.');
    await writing.reviewAnalysis(tx.execute, { id, personId: actor.personId });
    await writeAudit(tx.execute, actor, { kind: 'analysis', id, number: row.number, action: 'reviewed' });
    return viewAnalysis(tx.execute, id);
  });
}
