import type { Actor } from '../../actor.ts';
import type { Tx } from '../../db/client.ts';
import { invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import * as queries from './queries.ts';
import { readWhole } from './read-quotation.ts';

/**
 * Marks the sent revision accepted and returns what the order is made of. The caller makes the order in the same
 * transaction.
 */
export async function acceptSentRevision(
  tx: Tx,
  of: { actor: Actor; quotationId: number; picks: { lineId: number; breakId: number }[] },
) {
  const { actor, quotationId, picks } = of;
  await queries.lockQuotation(tx.run, quotationId);
  const { revisions } = await readWhole(tx, { id: quotationId });
  const out = revisions.find(({ status }) => status === 'sent' || status === 'lapsed');
  const quotation = await readWhole(tx, { id: quotationId, revision: out?.revision });
  const { shown, number } = quotation;
  if (shown.status !== 'sent') {
    throw new Refusal(
      'conflict',
      shown.status === 'lapsed'
        ? `${number} revision ${shown.revision} lapsed on ${shown.validUntil}: revise and send it again.`
        : `${number} revision ${shown.revision} is ${shown.status}; only a sent one is accepted.`,
    );
  }
  const lines = picks.map(({ lineId, breakId }, at) => {
    const line = shown.lines.find(({ id }) => id === lineId);
    if (line === undefined) throw invalid(`lines.${at}.lineId`, 'is not a line of the sent revision');
    if (picks.findIndex((other) => other.lineId === lineId) !== at)
      throw invalid(`lines.${at}.lineId`, 'is there twice');
    const picked = line.breaks.find(({ id }) => id === breakId);
    if (picked === undefined) throw invalid(`lines.${at}.breakId`, 'is not a quantity of that line');
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
  await record(tx.run, actor, {
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
