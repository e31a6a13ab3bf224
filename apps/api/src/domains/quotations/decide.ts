import type { closeQuotation, Quotation } from '@huelot/contracts';
import type { z } from 'zod';
import { inTransaction, type Db } from '../../db/client.ts';
import { Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { openLast, type On } from './open-last.ts';
import * as queries from './queries.ts';
import { readWhole } from './read-quotation.ts';
import { readDefaults } from './sheet-queries.ts';

/** Freezes the draft: from here on the database refuses to change it, and the revision before it is superseded. */
export function send(db: Db, of: On): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    const { shown, number } = await openLast(tx, { ...of, states: ['draft'], doing: 'sent' });
    const { day } = await readDefaults(tx.run);
    if (shown.validUntil < day)
      throw new Refusal(
        'conflict',
        `The offer would be valid until ${shown.validUntil}, which is past. Change the date first.`,
      );
    await queries.supersedeSent(tx.run, of.id);
    await queries.changeRevision(tx, shown.id, {
      status: 'sent',
      sentAt: new Date(),
      sentById: of.actor.personId,
    });
    await record(tx.run, of.actor, {
      kind: 'quotation',
      id: of.id,
      number,
      action: `sent revision ${shown.revision}`,
    });
    return readWhole(tx, of);
  });
}

/** Books how it ended when it did not end in an order. */
export function close(db: Db, of: On & { input: z.output<typeof closeQuotation.body> }): Promise<Quotation> {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    const { shown, number } = await openLast(tx, { ...of, states: ['sent', 'lapsed'], doing: input.outcome });
    await queries.changeRevision(tx, shown.id, {
      status: input.outcome,
      decidedAt: new Date(),
      decidedById: actor.personId,
      decisionReason: input.reason,
    });
    await record(tx.run, actor, {
      kind: 'quotation',
      id: of.id,
      number,
      action: `booked revision ${shown.revision} as ${input.outcome}`,
      reason: input.reason,
    });
    return readWhole(tx, of);
  });
}
