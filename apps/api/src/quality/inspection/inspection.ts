import type { checkLot, Lot, shipLot } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit, signature } from '../../core/audit/index.ts';
import { changeLot, lockLot, readLotWhole } from '../../production/lots/index.ts';
import { refreshOrderStatus } from '../../sales/orders/index.ts';
import { issueTraveler } from '../../production/travelers/index.ts';
import { askForCertificate } from '../certificates/index.ts';
import { checkColourRead } from '../colour-readings/index.ts';
import { foundOf, missingOf, readInspection, readStopped } from '../inspection-plans/index.ts';
import { readBlockedPieces, rejectedByDispositions } from '../nonconformances/index.ts';
import * as queries from './queries.ts';

type Body<E extends { body: z.ZodType }> = z.output<E['body']>;
interface Doing<B> {
  actor: Actor;
  id: number;
  input: B;
}

/**
 * The final check: every piece that came off the last step is accepted, rejected or sent round again. Rejects need a
 * reason; pieces for rework get a traveler of their own that points back.
 */
export function finalCheck(db: Db, { actor, id, input }: Doing<Body<typeof checkLot>>): Promise<Lot> {
  const { acceptedCount, rejectedCount, reworkCount } = input;
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await lockLot(tx.execute, id), `lot ${id}`);
    if (lot.held)
      throw new DomainError(
        'on-hold',
        `Lot ${lot.number} is on hold; release it first, with the reason it may go on.`,
      );
    if (lot.status !== 'finished' || lot.travelerId === null) {
      throw new DomainError(
        'conflict',
        `Lot ${lot.number} is ${lot.status}: the check comes after the last step is signed.`,
      );
    }
    const decided = acceptedCount + rejectedCount + reworkCount;
    if (decided !== lot.toCheck) {
      throw fieldError(
        'acceptedCount',
        `accepted, rejected and rework make ${decided}; ${lot.toCheck} pieces wait for the check`,
      );
    }
    if (rejectedCount + reworkCount > 0 && input.reason.trim() === '') {
      throw fieldError('reason', 'is needed for pieces that are not accepted');
    }
    if (acceptedCount > 0) {
      await checkColourRead(tx.execute, id);
      await checkInspected(tx, { lotId: id, acceptedCount, lotSize: lot.toCheck });
    }
    await queries.addCheck(tx, {
      ...input,
      lotId: id,
      travelerId: lot.travelerId,
      checkedById: actor.personId,
    });
    const lost = await queries.rejectedAtSteps(tx.execute, id);
    await changeLot(tx, id, {
      acceptedCount: lot.acceptedCount + acceptedCount,
      rejectedCount:
        (await queries.rejectedAtChecks(tx.execute, id)) +
        lost +
        (await rejectedByDispositions(tx.execute, id)),
      status: reworkCount > 0 ? 'released' : 'passed',
    });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id,
      number: lot.number,
      action: `checked: ${acceptedCount} accepted, ${rejectedCount} rejected, ${reworkCount} to rework`,
      changes: signature(actor, 'checked and released'),
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
    await refreshOrderStatus(tx.execute, lot.orderId);
    return readLotWhole(tx, id);
  });
}

/** Pieces are accepted once everything that the inspection plan of the part asks for was looked at. */
async function checkInspected(
  tx: Tx,
  { lotId, acceptedCount, lotSize }: { lotId: number; acceptedCount: number; lotSize: number },
): Promise<void> {
  const state = await readInspection(tx.execute, lotId);
  const missing = missingOf(state);
  if (missing.length > 0)
    throw new DomainError('conflict', `No piece can be accepted: ${missing.join('; ')}.`);
  const found = foundOf(state);
  if (acceptedCount > lotSize - found)
    throw fieldError(
      'acceptedCount',
      `must be at most ${lotSize - found}: inspection found ${found} ${found === 1 ? 'piece' : 'pieces'} that do not conform`,
    );
}

/** Books accepted pieces as shipped; the order is complete when nothing of it is left to do. */
export function shipLots(db: Db, { actor, id, input }: Doing<Body<typeof shipLot>>): Promise<Lot> {
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await lockLot(tx.execute, id), `lot ${id}`);
    if (lot.held) throw new DomainError('on-hold', `Lot ${lot.number} is on hold: nothing of it is shipped.`);
    const left = lot.acceptedCount - lot.shippedCount;
    if (input.quantity > left)
      throw fieldError('quantity', `must be at most ${left}, the accepted pieces not shipped yet`);
    const stopped = await readStopped(tx.execute, id);
    if (stopped.length > 0)
      throw new DomainError(
        'on-hold',
        `Inspection of ${stopped.join(', ')} is discontinued: nothing of this part is shipped until quality takes it up again.`,
      );
    const blocked = await readBlockedPieces(tx.execute, id);
    if (input.quantity > left - blocked.pieces)
      throw new DomainError(
        'on-hold',
        `${blocked.pieces} pieces of lot ${lot.number} wait for a disposition on ${blocked.numbers.join(', ')}: at most ${Math.max(0, left - blocked.pieces)} can be shipped.`,
      );
    const number = await nextNumber(tx.execute, 'shipment');
    const shipment = await queries.addShipment(tx, {
      ...input,
      number,
      lotId: id,
      shippedById: actor.personId,
    });
    await askForCertificate(tx.execute, shipment.id);
    const shippedCount = lot.shippedCount + input.quantity;
    const done = lot.status === 'passed' && shippedCount === lot.acceptedCount;
    await changeLot(tx, id, { shippedCount, ...(done ? { status: 'shipped' } : {}) });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id,
      number: lot.number,
      action: `shipped ${input.quantity} pieces on ${number}`,
    });
    await refreshOrderStatus(tx.execute, lot.orderId);
    return readLotWhole(tx, id);
  });
}
