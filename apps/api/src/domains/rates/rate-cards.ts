import { isDeepStrictEqual } from 'node:util';
import type { createRateCard, RateCard } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Run } from '../../db/client.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
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
export const currentRates = async (run: Run) => newestAndBefore(await queries.readCurrent(run));

/** One revision, and the one before it. */
export async function oneCard(run: Run, id: number) {
  const { card, before } = newestAndBefore(await queries.readCard(run, id));
  return { card: found(card, `rate card ${id}`), before };
}

/** Puts a new revision in force, unless another took the place of the one it was made from. */
export async function putInForce(
  db: Db,
  of: { actor: Actor; input: z.output<typeof createRateCard.body> },
): Promise<RateCard> {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockCards(tx.run);
    const { card: current } = await currentRates(tx.run);
    const revision = current?.revision ?? 0;
    if (revision !== input.fromRevision) {
      throw new Refusal(
        'changed-meanwhile',
        `Revision ${revision} of the rates came into force while you were working from revision ${input.fromRevision}. Both are shown; nothing was saved.`,
        { current },
      );
    }
    if (current !== null && isDeepStrictEqual(current.rates, input.rates)) {
      throw invalid('rates', `nothing differs from revision ${revision}`);
    }
    const { id } = await queries.addCard(tx, {
      revision: revision + 1,
      rates: input.rates,
      note: input.note,
      createdById: actor.personId,
    });
    // The card itself keeps every figure; the audit trail is read by people who may not see rates.
    await record(tx.run, actor, {
      kind: 'rate-card',
      id,
      number: `revision ${revision + 1}`,
      action: 'put in force',
      reason: input.note,
    });
    return (await oneCard(tx.run, id)).card;
  });
}
