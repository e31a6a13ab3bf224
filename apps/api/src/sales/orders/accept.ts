import type * as contract from '@huelot/contracts';
import type { Order } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { acceptSentRevision } from '../quotations/index.ts';
import { writeOrder } from './orders.ts';

/** Accepts the sent revision of a quotation and makes its order, in one transaction: both, or neither. */
export function acceptQuotation(
  db: Db,
  {
    actor,
    quotationId,
    input,
  }: { actor: Actor; quotationId: number; input: z.output<typeof contract.acceptQuotation.body> },
): Promise<Order> {
  return inTransaction(db, async (tx) => {
    const accepted = await acceptSentRevision(tx, { actor, quotationId, picks: input.lines });
    return writeOrder(tx, {
      actor,
      how: `made from ${accepted.number} revision ${accepted.revision}`,
      order: {
        customerId: accepted.customerId,
        quotationRevisionId: accepted.revisionId,
        customerOrderNumber: input.customerOrderNumber,
        currency: accepted.currency,
        notes: '',
        lines: accepted.lines.map((line) => ({ ...line, dueDate: input.dueDate, notes: '' })),
      },
    });
  });
}
