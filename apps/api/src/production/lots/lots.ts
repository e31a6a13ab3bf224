import type * as contract from '@huelot/contracts';
import type { Lot, placeHold, releaseHold, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import type { LineChanged } from '../../sales/orders/index.ts';
import { addHold, issueTraveler, readCurrentTraveler, setTravelerStatus } from '../travelers/index.ts';
import { needsTank, planLine } from './plan.ts';
import { readLineFacts } from './plan-queries.ts';
import * as queries from './queries.ts';

type Body<E extends { body: z.ZodType }> = z.output<E['body']>;

export const readWhole = async (db: Tx, id: number): Promise<Lot> =>
  orNotFound(await queries.readLot(db.execute, id), `lot ${id}`);

/** Puts a lot on hold: no step is signed and nothing is shipped until it is released. */
export function placeLotHold(
  db: Db | Tx,
  { actor, id, input }: { actor: Actor; id: number; input: Body<typeof placeHold> },
): Promise<Lot> {
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await queries.lockLot(tx.execute, id), `lot ${id}`);
    if (['shipped', 'cancelled'].includes(lot.status))
      throw new DomainError('conflict', `Lot ${lot.number} is ${lot.status}.`);
    await addHold(tx.execute, {
      lotId: id,
      reason: input.reason,
      signOffId: null,
      placedById: actor.personId,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id,
      number: lot.number,
      action: 'put on hold',
      reason: input.reason,
    });
    return readWhole(tx, id);
  });
}

/** Releases every open hold, by name and with the reason it may go on. */
export function releaseLotHold(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: Body<typeof releaseHold> },
): Promise<Lot> {
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await queries.lockLot(tx.execute, id), `lot ${id}`);
    if (!lot.held) throw new DomainError('conflict', `Lot ${lot.number} is not on hold.`);
    await queries.releaseOpenHolds(tx.execute, {
      lotId: id,
      releasedById: actor.personId,
      reason: input.reason,
    });
    await queries.changeLot(tx, id, { held: false });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id,
      number: lot.number,
      action: 'released from hold',
      reason: input.reason,
    });
    return readWhole(tx, id);
  });
}

/** Cancels a lot that nobody has started; its pieces can be released again. */
export function cancelLot(
  db: Db,
  {
    actor,
    id,
    version,
    input,
  }: { actor: Actor; id: number; version: number; input: Body<typeof contract.cancelLot> },
): Promise<Lot> {
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await queries.lockLot(tx.execute, id), `lot ${id}`);
    assertVersion({ stored: lot, version, what: `Lot ${lot.number}` });
    if (lot.status !== 'released')
      throw new DomainError('conflict', `Lot ${lot.number} is ${lot.status}: it has been worked on.`);
    if (lot.travelerId !== null)
      await setTravelerStatus(tx.execute, { id: lot.travelerId, status: 'cancelled' });
    await queries.changeLot(tx, id, { status: 'cancelled' });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id,
      number: lot.number,
      action: 'cancelled',
      reason: input.reason,
    });
    return readWhole(tx, id);
  });
}

/**
 * A new revision of the lot's traveler, on other tanks, another supply or another recipe revision. What is signed
 * stays signed; the paper of the old revision leads to the new one.
 */
export function reissueTraveler(
  db: Db,
  { actor, lotId, input }: { actor: Actor; lotId: number; input: Body<typeof contract.reissueTraveler> },
): Promise<Traveler> {
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await queries.lockLot(tx.execute, lotId), `lot ${lotId}`);
    const current = await readCurrentTraveler(tx.execute, lotId);
    if (current?.status !== 'issued')
      throw new DomainError('conflict', `Lot ${lot.number} has no traveler on the floor.`);
    const recipeRevisionId = input.recipeRevisionId ?? lot.recipeRevisionId;
    const line = orNotFound(
      await readLineFacts(tx.execute, lot.orderLineId),
      `order line ${lot.orderLineId}`,
    );
    if (recipeRevisionId !== line.recipeRevisionId && recipeRevisionId !== lot.recipeRevisionId) {
      throw fieldError('recipeRevisionId', 'must be the one of the order line: change the line first');
    }
    const plan = planLine(line, { rackId: undefined, supplyId: input.supplyId });
    if (recipeRevisionId === line.recipeRevisionId) {
      if (input.supplyId !== plan.supplyId)
        throw fieldError('supplyId', 'is not a supply that can run this route');
      plan.steps
        .filter(({ contents }) => needsTank(contents))
        .forEach((step) => {
          const at = input.tanks.findIndex(({ position }) => position === step.position);
          if (!step.tanks.some(({ id }) => id === input.tanks[at]?.tankId)) {
            throw fieldError(
              at < 0 ? 'tanks' : `tanks.${at}.tankId`,
              `step ${step.position}, ${step.title}, needs a tank that it can use`,
            );
          }
        });
    }
    await queries.changeLot(tx, lotId, { recipeRevisionId, supplyId: input.supplyId, tanks: input.tanks });
    await issueTraveler(tx, {
      actor,
      lotId,
      kind: current.kind,
      quantity: current.quantity,
      changeNote: input.changeNote,
      ...(current.reworkOf === null ? {} : { reworkOfId: current.reworkOf.id }),
      supersedes: current,
    });
    return orNotFound(await readCurrentTraveler(tx.execute, lotId), `traveler of lot ${lotId}`);
  });
}

/** A changed order line reaches its lots on the floor: each traveler is superseded by one that says the new thing. */
export const lineChanged: LineChanged = async (tx, { actor, lineId, reason, recipeRevisionId, dueDate }) => {
  for (const lot of await queries.readOpenLotsOfLine(tx.execute, lineId)) {
    if (lot.travelerId === null || lot.travelerNumber === null || lot.travelerRevision === null) continue;
    const line = orNotFound(await readLineFacts(tx.execute, lineId), `order line ${lineId}`);
    const before = orNotFound(await queries.lockLot(tx.execute, lot.id), `lot ${lot.id}`);
    const plan = planLine(line, { supplyId: before.supplyId });
    const kept = new Map(before.tanks.map(({ position, tankId }) => [position, tankId]));
    const tanks = plan.steps
      .filter(({ contents }) => needsTank(contents))
      .map((step) => {
        const tank = step.tanks.find(({ id }) => id === kept.get(step.position)) ?? step.tanks[0];
        if (tank === undefined)
          throw fieldError(
            'recipeRevisionId',
            `step ${step.position}, ${step.title}, has no tank that it can use`,
          );
        return { position: step.position, tankId: tank.id };
      });
    await queries.changeLot(tx, lot.id, {
      recipeRevisionId,
      supplyId: plan.supplyId,
      tanks,
      dueDate: new Date(dueDate),
    });
    const current = orNotFound(await readCurrentTraveler(tx.execute, lot.id), `traveler of lot ${lot.id}`);
    await issueTraveler(tx, {
      actor,
      lotId: lot.id,
      kind: current.kind,
      quantity: current.quantity,
      changeNote: reason,
      ...(current.reworkOf === null ? {} : { reworkOfId: current.reworkOf.id }),
      supersedes: current,
    });
  }
};
