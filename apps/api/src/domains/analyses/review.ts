import type { Analysis } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { found, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { lockBath } from '../baths/index.ts';
import { readAnalysis } from './queries.ts';
import { viewAnalysis } from './view.ts';
import * as writing from './write-queries.ts';

/** A second person stands by an analysis. */
export async function reviewAnalysis(db: Db, of: { actor: Actor; id: number }): Promise<Analysis> {
  const { actor, id } = of;
  return inTransaction(db, async (tx) => {
    await lockBath(tx.run, found(await readAnalysis(tx.run, id), `analysis ${id}`).bath.id);
    const row = found(await readAnalysis(tx.run, id), `analysis ${id}`);
    if (row.reviewedAt !== null)
      throw new Refusal('conflict', `${row.number} was reviewed already by ${row.reviewedBy ?? 'somebody'}.`);
    if (row.analystId === actor.personId)
      throw new Refusal('not-allowed', 'Your own analysis is reviewed by somebody else.');
    await writing.reviewAnalysis(tx.run, { id, personId: actor.personId });
    await record(tx.run, actor, { kind: 'analysis', id, number: row.number, action: 'reviewed' });
    return viewAnalysis(tx.run, id);
  });
}
