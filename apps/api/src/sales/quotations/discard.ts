import { inTransaction, type Db } from '../../db/client.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { reopenForDiscarded } from '../enquiries/index.ts';
import { lockLatestRevision, type On } from './open-last.ts';
import * as queries from './queries.ts';

/**
 * Discards the draft of a quotation. What was sent before stands again as the last revision; a quotation that was only this
 * draft is gone with it, and its number is not given again.
 */
export function discardDraft(db: Db, options: On): Promise<{ revisionsLeft: number }> {
  return inTransaction(db, async (tx) => {
    const { shown, number, revisions } = await lockLatestRevision(tx, {
      ...options,
      states: ['draft'],
      doing: 'discarded',
    });
    if (revisions.length === 1)
      await reopenForDiscarded(tx, { actor: options.actor, quotation: { id: options.id, number } });
    await queries.removeDraft(tx, { id: options.id, revisionId: shown.id, whole: revisions.length === 1 });
    const prices = shown.lines.flatMap(({ part, breaks }) =>
      breaks.map(({ quantity, totalPrice }) => ({
        field: `${part.number} rev ${part.revision}, ${quantity} pieces`,
        old: `${totalPrice} ${shown.currency}`,
        new: null,
      })),
    );
    await writeAudit(tx.execute, options.actor, {
      kind: 'quotation',
      id: options.id,
      number,
      action: `discarded the draft of revision ${shown.revision}`,
      changes: prices,
    });
    return { revisionsLeft: revisions.length - 1 };
  });
}
