import type { NewNonconformance, Nonconformance, NonconformanceSheet } from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFilesFor } from '../../core/files/index.ts';
import { inTransaction, type Db, type SqlExecutor, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { lockLot, readLot } from '../../production/lots/index.ts';
import { readLotFacts } from './lot-facts.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';

interface Origin {
  holdId?: number | null | undefined;
  finalCheckId?: number | null | undefined;
  shipmentId?: number | null | undefined;
}

/** What is known before anybody types: the words and figures of the hold, the final check or the shipment. */
export async function readSheet(
  db: Db,
  { actor, lotId, origin }: { actor: Actor; lotId: number; origin: Origin },
): Promise<NonconformanceSheet> {
  const lot = orNotFound(await readLot(db.execute, lotId), `lot ${lotId}`);
  const { hold, check, shipment } = originOf(lot, origin);
  const open = await queries.readOfLot(db.execute, lotId);
  const day = await queries.readDay(db.execute);
  return {
    record: await readLotFacts(db, lotId),
    known: {
      foundOn: [(check?.checkedAt ?? hold?.placedAt ?? day).slice(0, 10), day].toSorted()[0] ?? day,
      foundAt: shipment ? 'customer' : check ? 'inspection' : hold ? 'process' : 'inspection',
      foundBy: check?.checkedBy ?? hold?.placedBy ?? (shipment ? lot.customer.name : actor.displayName),
      piecesAffected: check
        ? Math.max(1, check.rejectedCount + check.reworkCount)
        : (shipment?.quantity ?? lot.quantity),
      piecesInspected: check
        ? check.acceptedCount + check.rejectedCount + check.reworkCount
        : (shipment?.quantity ?? lot.quantity),
      description: check?.reason ?? hold?.reason ?? '',
      requirement: '',
    },
    open: open
      .filter(({ state }) => state === 'open')
      .map(({ id, number, fault }) => ({ id, number, fault })),
  };
}

type WholeLot = NonNullable<Awaited<ReturnType<typeof readLot>>>;
function originOf(lot: WholeLot, { holdId, finalCheckId, shipmentId }: Origin) {
  const find = <T extends { id: number }>(
    rows: readonly T[],
    id: number | null | undefined,
    path: string,
  ): T | null => {
    if (id === null || id === undefined) return null;
    const row = rows.find((one) => one.id === id);
    if (row === undefined) throw fieldError(path, `is none of lot ${lot.number}`);
    return row;
  };
  return {
    hold: find(lot.holds, holdId, 'holdId'),
    check: find(lot.checks, finalCheckId, 'finalCheckId'),
    shipment: find(lot.shipments, shipmentId, 'shipmentId'),
  };
}

/**
 * Opens a nonconformance of pieces of a lot. What the record says of the lot is pulled in and frozen with it; from now on its
 * pieces are neither shipped nor certified until it is decided about them.
 */
export function open(
  db: Db | Tx,
  { actor, lotId, input }: { actor: Actor; lotId: number; input: NewNonconformance },
): Promise<Nonconformance> {
  return inTransaction(db, async (tx) => {
    orNotFound(await lockLot(tx.execute, lotId), `lot ${lotId}`);
    const lot = orNotFound(await readLot(tx.execute, lotId), `lot ${lotId}`);
    if (lot.status === 'cancelled') throw new DomainError('conflict', `Lot ${lot.number} is cancelled.`);
    const { check } = originOf(lot, input);
    await checkFound(tx.execute, {
      input,
      lot,
      rejected: check === null ? null : check.rejectedCount + check.reworkCount,
    });
    const { photoIds, foundOn, ...found } = input;
    const number = await nextNumber(tx.execute, 'nonconformance');
    const { id } = await queries.addNonconformance(tx, {
      ...{ ...found, number, lotId, foundOn: new Date(foundOn), openedById: actor.personId },
      record: await readLotFacts(tx, lotId),
    });
    await addPhotos(tx, { actor, id, fileIds: photoIds });
    await writeAudit(tx.execute, actor, {
      ...{
        kind: 'nonconformance',
        id,
        number,
        action: `opened for ${input.piecesAffected} pieces of ${lot.number}`,
      },
      reason: input.description,
    });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'lot', id: lotId, number: lot.number, action: `opened nonconformance ${number}` },
    });
    return view(tx, { actor, id });
  });
}

async function checkFound(
  execute: SqlExecutor,
  { input, lot, rejected }: { input: NewNonconformance; lot: WholeLot; rejected: number | null },
): Promise<void> {
  if (input.foundOn > (await queries.readDay(execute)))
    throw fieldError('foundOn', 'must not be later than today');
  if (input.foundAt === 'customer' && lot.shipments.length === 0)
    throw fieldError('foundAt', `nothing of lot ${lot.number} was shipped: no customer has it`);
  const most = rejected ?? (input.foundAt === 'customer' ? lot.shippedCount : lot.quantity);
  if (input.piecesAffected > most)
    throw fieldError('piecesAffected', `must be at most ${most}, the pieces that there are`);
  if (input.piecesInspected < input.piecesAffected)
    throw fieldError('piecesInspected', `must be at least ${input.piecesAffected}, the pieces affected`);
  if (input.measuredValue !== null && input.measuredUnit.trim() === '')
    throw fieldError('measuredUnit', 'is needed with a measured value');
}

/** Hangs pictures on a nonconformance; what is no picture, or none of the sender’s to show, is refused. */
export async function addPhotos(
  tx: Tx,
  { actor, id, fileIds, text = '' }: { actor: Actor; id: number; fileIds: readonly number[]; text?: string },
): Promise<void> {
  const files = await readFilesFor(tx.execute, { actor, ids: fileIds });
  for (const [index, fileId] of fileIds.entries()) {
    const path = fileIds.length === 1 && text !== '' ? 'fileId' : `photoIds.${index}`;
    const file = files.find((one) => one.id === fileId);
    if (file === undefined) throw fieldError(path, `there is no file ${fileId}`);
    if (!file.mediaType.startsWith('image/')) throw fieldError(path, `${file.name} is no picture`);
    await queries.addEntry(tx, {
      ...{ nonconformanceId: id, kind: 'photo', text, fileId, byId: actor.personId },
    });
  }
  await keepFiles(tx.execute, fileIds);
}
