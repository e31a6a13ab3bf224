import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';
import { loadQuotation } from './read-quotation.ts';

/**
 * Marks the sent revision accepted and returns what the order is made of. The caller makes the order in the same
 * transaction.
 */
export async function acceptSentRevision(
  tx: Tx,
  {
    actor,
    quotationId,
    picks,
  }: { actor: Actor; quotationId: number; picks: { lineId: number; breakId: number }[] },
) {
  await queries.lockQuotation(tx.execute, quotationId);
  const { revisions } = await loadQuotation(tx, { id: quotationId });
  const out = revisions.find(({ status }) => status === 'sent' || status === 'lapsed');
  const quotation = await loadQuotation(tx, { id: quotationId, revision: out?.revision });
  const { shown, number } = quotation;
  if (shown.status !== 'sent') {
    throw new DomainError(
      'conflict',
      shown.status === 'lapsed'
        ? `${number} revision ${shown.revision} expired on ${shown.validUntil}: revise and send it again.`
        : `${number} revision ${shown.revision} is ${shown.status}; only a sent one is accepted.`,
    );
  }
  const lines = picks.map(({ lineId, breakId }, index) => {
    const line = shown.lines.find(({ id }) => id === lineId);
    if (line === undefined) throw fieldError(`lines.${index}.lineId`, 'is not a line of the sent revision');
    if (picks.findIndex((other) => other.lineId === lineId) !== index)
      throw fieldError(`lines.${index}.lineId`, 'is listed twice');
    const picked = line.breaks.find(({ id }) => id === breakId);
    if (picked === undefined) throw fieldError(`lines.${index}.breakId`, 'is not a quantity of that line');
    return {
      partId: line.part.id,
      recipeRevisionId: line.recipe.revisionId,
      quotationLineId: line.id,
      rackId: line.rackId,
      supplyId: line.supplyId,
      quantity: picked.quantity,
      unitPrice: picked.unitPrice,
      totalPrice: picked.totalPrice,
      certificate: line.certificate,
      inspectionLevel: line.inspectionLevel,
    };
  });
  await queries.changeRevision(tx, shown.id, {
    status: 'accepted',
    decidedAt: new Date(),
    decidedById: actor.personId,
  });
  await writeAudit(tx.execute, actor, {
    kind: 'quotation',
    id: quotationId,
    number,
    action: `accepted revision ${shown.revision}`,
  });
  return {
    number,
    revision: shown.revision,
    revisionId: shown.id,
    customerId: quotation.customer.id,
    currency: shown.currency,
    lines,
  };
}
