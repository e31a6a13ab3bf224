import type { cancelLot, Lot, placeHold, reissueTraveler, releaseHold, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import type { LineChanged } from '../orders/index.ts';
import { addHold, issueTraveler, readCurrentTraveler, setTravelerStatus } from '../travelers/index.ts';
import { needsTank, planLine } from './plan.ts';
import { readLineFacts } from './plan-queries.ts';
import * as queries from './queries.ts';

type Body<E extends { body: z.ZodType }> = z.output<E['body']>;

export const readWhole = async (db: Tx, id: number): Promise<Lot> =>
  found(await queries.readLot(db.run, id), `lot ${id}`);

/** Puts a lot on hold: no step is signed and nothing is shipped until it is released. */
export function hold(
  db: Db,
  of: { actor: Actor; id: number; input: Body<typeof placeHold>; once: OnceKey | null },
): Promise<Lot> {
  const { actor, id, input, once } = of;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      const lot = found(await queries.lockLot(tx.run, id), `lot ${id}`);
      if (['shipped', 'cancelled'].includes(lot.status))
        throw new Refusal('conflict', `Lot ${lot.number} is ${lot.status}.`);
      await addHold(tx.run, { lotId: id, reason: input.reason, signOffId: null, placedById: actor.personId });
      await record(tx.run, actor, {
        kind: 'lot',
        id,
        number: lot.number,
        action: 'put on hold',
        reason: input.reason,
      });
      return readWhole(tx, id);
    }),
  );
}

/** Releases every open hold, by name and with the reason it may go on. */
export function unhold(
  db: Db,
  of: { actor: Actor; id: number; input: Body<typeof releaseHold> },
): Promise<Lot> {
  const { actor, id, input } = of;
  return inTransaction(db, async (tx) => {
    const lot = found(await queries.lockLot(tx.run, id), `lot ${id}`);
    if (!lot.held) throw new Refusal('conflict', `Lot ${lot.number} is not on hold.`);
    await queries.releaseOpenHolds(tx.run, { lotId: id, releasedById: actor.personId, reason: input.reason });
    await queries.changeLot(tx, id, { held: false });
    await record(tx.run, actor, {
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
export function cancel(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: Body<typeof cancelLot> },
): Promise<Lot> {
  const { actor, id, version, input } = of;
  return inTransaction(db, async (tx) => {
    const lot = found(await queries.lockLot(tx.run, id), `lot ${id}`);
    checkVersion({ stored: lot, version, what: `Lot ${lot.number}` });
    if (lot.status !== 'released')
      throw new Refusal('conflict', `Lot ${lot.number} is ${lot.status}: it has been worked on.`);
    if (lot.travelerId !== null) await setTravelerStatus(tx.run, { id: lot.travelerId, status: 'cancelled' });
    await queries.changeLot(tx, id, { status: 'cancelled' });
    await record(tx.run, actor, {
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
export function reissue(
  db: Db,
  of: { actor: Actor; lotId: number; input: Body<typeof reissueTraveler> },
): Promise<Traveler> {
  const { actor, lotId, input } = of;
  return inTransaction(db, async (tx) => {
    const lot = found(await queries.lockLot(tx.run, lotId), `lot ${lotId}`);
    const current = await readCurrentTraveler(tx.run, lotId);
    if (current?.status !== 'issued')
      throw new Refusal('conflict', `Lot ${lot.number} has no traveler on the floor.`);
    const recipeRevisionId = input.recipeRevisionId ?? lot.recipeRevisionId;
    const line = found(await readLineFacts(tx.run, lot.orderLineId), `order line ${lot.orderLineId}`);
    if (recipeRevisionId !== line.recipeRevisionId && recipeRevisionId !== lot.recipeRevisionId) {
      throw invalid('recipeRevisionId', 'must be the one of the order line: change the line first');
    }
    const plan = planLine(line, { rackId: undefined, supplyId: input.supplyId });
    if (recipeRevisionId === line.recipeRevisionId) {
      if (input.supplyId !== plan.supplyId)
        throw invalid('supplyId', 'is not a supply that can run this route');
      plan.steps
        .filter(({ contents }) => needsTank(contents))
        .forEach((step) => {
          const at = input.tanks.findIndex(({ position }) => position === step.position);
          if (!step.tanks.some(({ id }) => id === input.tanks[at]?.tankId)) {
            throw invalid(
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
    return found(await readCurrentTraveler(tx.run, lotId), `traveler of lot ${lotId}`);
  });
}

/** A changed order line reaches its lots on the floor: each traveler is superseded by one that says the new thing. */
export const lineChanged: LineChanged = async (tx, { actor, lineId, reason, recipeRevisionId, dueDate }) => {
  for (const lot of await queries.readOpenLotsOfLine(tx.run, lineId)) {
    if (lot.travelerId === null || lot.travelerNumber === null || lot.travelerRevision === null) continue;
    const line = found(await readLineFacts(tx.run, lineId), `order line ${lineId}`);
    const before = found(await queries.lockLot(tx.run, lot.id), `lot ${lot.id}`);
    const plan = planLine(line, { supplyId: before.supplyId });
    const kept = new Map(before.tanks.map(({ position, tankId }) => [position, tankId]));
    const tanks = plan.steps
      .filter(({ contents }) => needsTank(contents))
      .map((step) => {
        const tank = step.tanks.find(({ id }) => id === kept.get(step.position)) ?? step.tanks[0];
        if (tank === undefined)
          throw invalid(
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
    const current = found(await readCurrentTraveler(tx.run, lot.id), `traveler of lot ${lot.id}`);
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
