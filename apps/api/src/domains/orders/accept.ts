import type { acceptQuotation, Order } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { acceptSentRevision } from '../quotations/index.ts';
import { writeOrder } from './orders.ts';

/** Accepts the sent revision of a quotation and makes its order, in one transaction: both, or neither. */
export function accept(
  db: Db,
  of: { actor: Actor; quotationId: number; input: z.output<typeof acceptQuotation.body> },
): Promise<Order> {
  const { actor, quotationId, input } = of;
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
