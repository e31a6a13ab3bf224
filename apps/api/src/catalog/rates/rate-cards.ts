import { isDeepStrictEqual } from 'node:util';
import type { createRateCard, RateCard } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor, type Tx } from '../../db/client.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';

const toCard = (row: queries.CardRow): RateCard => ({ ...row, createdAt: row.createdAt.toISOString() });

const newestAndBefore = ([card, before]: queries.CardRow[]) => ({
  card: card === undefined ? null : toCard(card),
  before: before === undefined ? null : toCard(before),
});

/**
 * The rates in force, and the revision before; nothing in a shop that has set none yet.
 *
 * @example
 * const { card } = await currentRates(db.run);
 */
export const currentRates = async (execute: SqlExecutor) =>
  newestAndBefore(await queries.readCurrent(execute));

/** One revision, and the one before it. */
export async function oneCard(execute: SqlExecutor, id: number) {
  const { card, before } = newestAndBefore(await queries.readCard(execute, id));
  return { card: orNotFound(card, `rate card ${id}`), before };
}

/** Puts a new revision in force, unless another took the place of the one it was made from. */
export async function putInForce(
  db: Db | Tx,
  { actor, input }: { actor: Actor; input: z.output<typeof createRateCard.body> },
): Promise<RateCard> {
  return inTransaction(db, async (tx) => {
    await queries.lockCards(tx.execute);
    const { card: current } = await currentRates(tx.execute);
    const revision = current?.revision ?? 0;
    if (revision !== input.fromRevision) {
      throw new DomainError(
        'version-conflict',
        `Revision ${revision} of the rates came into force while you were working from revision ${input.fromRevision}. Both are shown; nothing was saved.`,
        { current },
      );
    }
    if (current !== null && isDeepStrictEqual(current.rates, input.rates)) {
      throw fieldError('rates', `are the same as in revision ${revision}: change at least one`);
    }
    const { id } = await queries.addCard(tx, {
      revision: revision + 1,
      rates: input.rates,
      note: input.note,
      createdById: actor.personId,
    });
    // The card itself keeps every figure; the audit trail is read by people who may not see rates.
    await writeAudit(tx.execute, actor, {
      kind: 'rate-card',
      id,
      number: `revision ${revision + 1}`,
      action: 'put in force',
      reason: input.note,
    });
    return (await oneCard(tx.execute, id)).card;
  });
}
