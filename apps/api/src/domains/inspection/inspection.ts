import type { checkLot, Lot, shipLot } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { changeLot, lockLot, readLotWhole } from '../lots/index.ts';
import { settleOrder } from '../orders/index.ts';
import { issueTraveler } from '../travelers/index.ts';
import * as queries from './queries.ts';

type Body<E extends { body: z.ZodType }> = z.output<E['body']>;
interface Doing<B> {
  actor: Actor;
  id: number;
  input: B;
  once: OnceKey | null;
}

/**
 * The final check: every piece that came off the last step is accepted, rejected or sent round again. Rejects need a
 * reason; pieces for rework get a traveler of their own that points back.
 */
export function check(db: Db, of: Doing<Body<typeof checkLot>>): Promise<Lot> {
  const { actor, id, input, once } = of;
  const { acceptedCount, rejectedCount, reworkCount } = input;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      const lot = found(await lockLot(tx.run, id), `lot ${id}`);
      if (lot.held)
        throw new Refusal(
          'on-hold',
          `Lot ${lot.number} is on hold; release it first, with the reason it may go on.`,
        );
      if (lot.status !== 'finished' || lot.travelerId === null) {
        throw new Refusal(
          'conflict',
          `Lot ${lot.number} is ${lot.status}: the check comes after the last step is signed.`,
        );
      }
      const decided = acceptedCount + rejectedCount + reworkCount;
      if (decided !== lot.toCheck) {
        throw invalid(
          'acceptedCount',
          `accepted, rejected and rework make ${decided}; ${lot.toCheck} pieces wait for the check`,
        );
      }
      if (rejectedCount + reworkCount > 0 && input.reason.trim() === '') {
        throw invalid('reason', 'is needed for pieces that are not accepted');
      }
      await queries.addCheck(tx, {
        ...input,
        lotId: id,
        travelerId: lot.travelerId,
        checkedById: actor.personId,
      });
      const lost = await queries.rejectedAtSteps(tx.run, id);
      await changeLot(tx, id, {
        acceptedCount: lot.acceptedCount + acceptedCount,
        rejectedCount: (await queries.rejectedAtChecks(tx.run, id)) + lost,
        status: reworkCount > 0 ? 'released' : 'passed',
      });
      await record(tx.run, actor, {
        kind: 'lot',
        id,
        number: lot.number,
        action: `checked: ${acceptedCount} accepted, ${rejectedCount} rejected, ${reworkCount} to rework`,
        reason: input.reason || null,
      });
      if (reworkCount > 0) {
        await issueTraveler(tx, {
          actor,
          lotId: id,
          kind: 'rework',
          quantity: reworkCount,
          changeNote: input.reason,
          reworkOfId: lot.travelerId,
        });
      }
      await settleOrder(tx.run, lot.orderId);
      return readLotWhole(tx, id);
    }),
  );
}

/** Books accepted pieces as shipped; the order is complete when nothing of it is left to do. */
export function ship(db: Db, of: Doing<Body<typeof shipLot>>): Promise<Lot> {
  const { actor, id, input, once } = of;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      const lot = found(await lockLot(tx.run, id), `lot ${id}`);
      if (lot.held) throw new Refusal('on-hold', `Lot ${lot.number} is on hold: nothing of it is shipped.`);
      const left = lot.acceptedCount - lot.shippedCount;
      if (input.quantity > left)
        throw invalid('quantity', `must be at most ${left}, the accepted pieces not shipped yet`);
      const number = await nextNumber(tx.run, 'shipment');
      await queries.addShipment(tx, { ...input, number, lotId: id, shippedById: actor.personId });
      const shippedCount = lot.shippedCount + input.quantity;
      const done = lot.status === 'passed' && shippedCount === lot.acceptedCount;
      await changeLot(tx, id, { shippedCount, ...(done ? { status: 'shipped' } : {}) });
      await record(tx.run, actor, {
        kind: 'lot',
        id,
        number: lot.number,
        action: `shipped ${input.quantity} pieces on ${number}`,
      });
      await settleOrder(tx.run, lot.orderId);
      return readLotWhole(tx, id);
    }),
  );
}
