import {
  dispositionNames,
  takenFromNames,
  type disposeNonconformance,
  type Nonconformance,
  type TakenFrom,
} from '@huelot/contracts';
import type { z } from 'zod';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { changeLot, lockLot } from '../../production/lots/index.ts';
import { issueTraveler } from '../../production/travelers/index.ts';
import { refreshOrderStatus } from '../../sales/orders/index.ts';
import { countsAfter } from './counts-after.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';

type Input = z.output<typeof disposeNonconformance.body>;
type LockedLot = NonNullable<Awaited<ReturnType<typeof lockLot>>>;

/** How many pieces there are of each. */
const available = (lot: LockedLot, takenFrom: TakenFrom): number =>
  ({
    floor: lot.quantity - lot.acceptedCount - lot.rejectedCount,
    rejected: lot.rejectedCount,
    accepted: lot.acceptedCount - lot.shippedCount,
    shipped: lot.shippedCount,
  })[takenFrom];

/**
 * Decides what becomes of pieces of a nonconformance, and moves the counts of their lot with it: rework issues a traveler that
 * points back, a concession or use as is makes rejected pieces accepted ones, scrap and return take them out.
 */
export function dispose(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: Input },
): Promise<Nonconformance> {
  return inTransaction(db, async (tx) => {
    const lotId = orNotFound(await queries.readLotOf(tx.execute, id), `nonconformance ${id}`);
    const lot = orNotFound(await lockLot(tx.execute, lotId), `lot ${lotId}`);
    const row = orNotFound(await queries.readNonconformance(tx.execute, id), `nonconformance ${id}`);
    check({ row, lot, input });
    const changes = countsAfter(input);
    const travelerId =
      input.disposition === 'rework' ? await sendRound(tx, { actor, lot, input, number: row.number }) : null;
    await queries.addDisposition(tx, {
      ...{ ...input, ...changes, nonconformanceId: id, lotId, travelerId, decidedById: actor.personId },
    });
    await moveCounts(tx, { lot, changes, isRework: input.disposition === 'rework' });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'nonconformance', id, number: row.number },
      action: `${dispositionNames[input.disposition]} of ${input.pieces} pieces, ${takenFromNames[input.takenFrom]}`,
      changes: signature(actor, 'decided'),
      reason: input.reason,
    });
    await refreshOrderStatus(tx.execute, lot.orderId);
    return view(tx, { actor, id });
  });
}

function check({ row, lot, input }: { row: queries.NonconformanceRow; lot: LockedLot; input: Input }): void {
  const { disposition, pieces, takenFrom } = input;
  if (row.state === 'closed')
    throw new DomainError('conflict', `${row.number} is closed: open it again first, with the reason.`);
  const isConcession = disposition === 'concession';
  if (isConcession && input.concessionNumber.trim() === '')
    throw fieldError('concessionNumber', 'must be the number under which the customer allowed it');
  if (isConcession && input.concessionBy.trim() === '')
    throw fieldError('concessionBy', 'must name who at the customer allowed it');
  if (!isConcession && (input.concessionNumber !== '' || input.concessionBy !== ''))
    throw fieldError('concessionNumber', 'belongs to a concession only');
  if (pieces > row.undecided)
    throw fieldError('pieces', `must be at most ${row.undecided}, those nobody decided about yet`);
  if (takenFrom === 'floor' && !isConcession && disposition !== 'use-as-is')
    throw fieldError(
      'takenFrom',
      `${dispositionNames[disposition]} takes pieces that were counted: reject them at their step or at the final check first`,
    );
  const most = available(lot, takenFrom);
  if (pieces > most)
    throw fieldError('pieces', `must be at most ${most}: so many are ${takenFromNames[takenFrom]}`);
}

/** A traveler for pieces that go round again; a lot goes by one traveler at a time. */
async function sendRound(
  tx: Tx,
  { actor, lot, input, number }: { actor: Actor; lot: LockedLot; input: Input; number: string },
): Promise<number> {
  if (lot.held)
    throw new DomainError(
      'on-hold',
      `Lot ${lot.number} is on hold; release it first, with the reason it may go on.`,
    );
  if (!['passed', 'shipped'].includes(lot.status) || lot.travelerId === null)
    throw new DomainError(
      'conflict',
      `Lot ${lot.number} is ${lot.status}: its traveler is finished and checked before pieces go round again.`,
    );
  return issueTraveler(tx, {
    ...{ actor, lotId: lot.id, kind: 'rework', quantity: input.pieces, reworkOfId: lot.travelerId },
    changeNote: `${number}: ${input.reason}`,
  });
}

async function moveCounts(
  tx: Tx,
  { lot, changes, isRework }: { lot: LockedLot; changes: ReturnType<typeof countsAfter>; isRework: boolean },
): Promise<void> {
  const acceptedCount = lot.acceptedCount + changes.acceptedChange;
  const shippedCount = lot.shippedCount + changes.shippedChange;
  const settled = ['passed', 'shipped'].includes(lot.status);
  const status = isRework
    ? 'released'
    : shippedCount === acceptedCount && acceptedCount > 0
      ? 'shipped'
      : 'passed';
  await changeLot(tx, lot.id, {
    ...{ acceptedCount, shippedCount, rejectedCount: lot.rejectedCount + changes.rejectedChange },
    ...(settled ? { status } : {}),
  });
}
