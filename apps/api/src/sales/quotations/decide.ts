import type * as contract from '@huelot/contracts';
import type { Quotation, UnprovedWord } from '@huelot/contracts';
import type { z } from 'zod';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { proveWord, type ProvedWord } from '../../colour/evidence/index.ts';
import { passQuotation } from './evidence.ts';
import { lockLatestRevision, type On } from './open-last.ts';
import { keepQuotationPaper } from './paper.ts';
import * as queries from './queries.ts';
import { loadQuotation } from './read-quotation.ts';
import { readDefaults } from './sheet-queries.ts';

/** Sends the draft: it is frozen, and its paper is kept with it. */
export async function sendQuotation(
  db: Db,
  { unproved, ...on }: On & { unproved: UnprovedWord | undefined },
): Promise<Quotation> {
  const word = await proveWord(db, { actor: on.actor, word: unproved, path: 'unproved' });
  return inTransaction(db, async (tx) => {
    const sent = await freezeRevision(tx, { ...on, word });
    await keepQuotationPaper(tx, sent);
    return sent;
  });
}

/**
 * Freezes the draft: from here on the database refuses to change it, and the revision before it is superseded. Its paper is
 * the caller's to keep; where nobody did, the first download does.
 */
export async function freezeRevision(tx: Tx, on: On & { word: ProvedWord | null }): Promise<Quotation> {
  const quotation = await lockLatestRevision(tx, { ...on, states: ['draft'], doing: 'sent' });
  const { shown, number } = quotation;
  const { day } = await readDefaults(tx.execute);
  if (shown.validUntil < day)
    throw new DomainError(
      'conflict',
      `The offer would be valid until ${shown.validUntil}, which is in the past. Change the date first.`,
    );
  await passQuotation(tx.execute, { actor: on.actor, word: on.word, quotation });
  await queries.supersedeSent(tx.execute, on.id);
  await queries.changeRevision(tx, shown.id, {
    status: 'sent',
    sentAt: new Date(),
    sentById: on.actor.personId,
  });
  await writeAudit(tx.execute, on.actor, {
    kind: 'quotation',
    id: on.id,
    number,
    action: `sent revision ${shown.revision}`,
    reason:
      on.word === null ? null : `subject to a first article, by ${on.word.displayName}: ${on.word.reason}`,
  });
  return loadQuotation(tx, on);
}

/** Books how it ended when it did not end in an order. */
export function closeQuotation(
  db: Db,
  options: On & { input: z.output<typeof contract.closeQuotation.body> },
): Promise<Quotation> {
  const { actor, input } = options;
  return inTransaction(db, async (tx) => {
    const { shown, number } = await lockLatestRevision(tx, {
      ...options,
      states: ['sent', 'lapsed'],
      doing: input.outcome,
    });
    if (shown.decidedAt !== null)
      throw new DomainError('immutable', `${number} revision ${shown.revision} is closed already.`);
    await queries.changeRevision(tx, shown.id, {
      status: input.outcome,
      decidedAt: new Date(),
      decidedById: actor.personId,
      decisionReason: input.reason,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'quotation',
      id: options.id,
      number,
      action: `booked revision ${shown.revision} as ${input.outcome === 'lapsed' ? 'unanswered' : input.outcome}`,
      reason: input.reason,
    });
    return loadQuotation(tx, options);
  });
}
