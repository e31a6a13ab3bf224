import type * as contract from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { passGate, proveWord, type ProvedWord } from '../../colour/evidence/index.ts';
import { issueTraveler } from '../travelers/index.ts';
import { needsTank, planLine, rackStopTexts } from './plan.ts';
import { lockLine, readLineFacts, type LineFacts } from './plan-queries.ts';
import * as queries from './queries.ts';
import { keepStopOverride, passStoppedBaths } from './stopped-baths.ts';

type Input = z.output<typeof contract.releaseLots.body>;

/**
 * Makes one lot of each load and issues its traveler, all or none. Every limit is checked again here: what fits on
 * the rack, what the supply gives, what each tank holds, what the metal must not touch.
 */
export async function releaseLots(
  db: Db,
  { actor, lineId, input }: { actor: Actor; lineId: number; input: Input },
) {
  const word = await proveWord(db, { actor, word: input.unproved, path: 'unproved' });
  return inTransaction(db, async (tx) => {
    return releaseLoads(tx, { actor, lineId, input, word });
  });
}

/** Releases in the transaction of the caller, who proved the word that unproved work goes on. */
export async function releaseLoads(
  tx: Tx,
  { actor, lineId, input, word }: { actor: Actor; lineId: number; input: Input; word: ProvedWord | null },
) {
  await lockLine(tx.execute, lineId);
  const facts = orNotFound(await readLineFacts(tx.execute, lineId), `order line ${lineId}`);
  check(facts, input);
  const finding = await passStoppedBaths(tx.execute, { actor, facts, input });
  const made: { id: number; number: string }[] = [];
  for (const quantity of input.loads) {
    const number = await nextNumber(tx.execute, 'lot');
    const { id } = await queries.addLot(tx, {
      number,
      quantity,
      orderLineId: lineId,
      partId: facts.partId,
      recipeRevisionId: facts.recipeRevisionId,
      rackId: input.rackId,
      supplyId: input.supplyId,
      tanks: input.tanks,
      dueDate: new Date(input.dueDate),
      priority: input.priority,
      createdById: actor.personId,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id,
      number,
      action: `released ${quantity} pieces of ${facts.orderNumber} line ${facts.position}`,
      reason: word === null ? null : `not proved, by ${word.displayName}: ${word.reason}`,
    });
    if (finding !== null && input.stopped !== undefined)
      await keepStopOverride(tx.execute, {
        ...{ actor, lot: { id, number }, finding, reason: input.stopped.reason },
      });
    await issueTraveler(tx, { actor, lotId: id, kind: 'first', quantity, changeNote: '' });
    made.push({ id, number });
  }
  const { recipeRevisionId, materialId, partId, recipeNumber } = facts;
  await passGate(tx.execute, {
    ...{ actor, place: 'release', word },
    wanted: made.map(({ id, number }) => ({
      ...{ recipeRevisionId, materialId, partId, lotId: id, recordNumber: number },
      what: `${recipeNumber} for ${facts.orderNumber} line ${facts.position}`,
    })),
  });
  return queries.readLotsByIds(
    tx.execute,
    made.map(({ id }) => id),
  );
}

function check(facts: LineFacts, input: Input): void {
  const rack = facts.racks.find(({ id }) => id === input.rackId);
  const [stop] = rack === undefined ? [] : rackStopTexts(facts, rack);
  if (stop !== undefined)
    throw new DomainError('incompatible', stop, { issues: [{ path: 'rackId', message: stop }] });
  const plan = planLine(facts, input);
  if (plan.obstacles.length > 0) throw new DomainError('conflict', plan.obstacles.join(' '));
  if (input.rackId !== plan.rackId)
    throw fieldError('rackId', 'is not a rack that may go through this route');
  if (input.supplyId !== plan.supplyId)
    throw fieldError('supplyId', 'is not a supply that can run this route');
  const sum = input.loads.reduce((total, quantity) => total + quantity, 0);
  if (sum > plan.toRelease)
    throw fieldError('loads', `make ${sum} pieces together; ${plan.toRelease} are here and not in a lot yet`);
  input.loads.forEach((quantity, index) => {
    if (quantity > plan.piecesPerLoad) {
      throw fieldError(
        `loads.${index}`,
        `must be at most ${plan.piecesPerLoad}: ${plan.binding.join(' and ')} limits the load`,
      );
    }
  });
  for (const step of plan.steps.filter(({ contents }) => needsTank(contents))) {
    const at = input.tanks.findIndex(({ position }) => position === step.position);
    const tank = input.tanks[at];
    if (tank === undefined) throw fieldError('tanks', `step ${step.position}, ${step.title}, has no tank`);
    if (!step.tanks.some(({ id }) => id === tank.tankId)) {
      throw fieldError(`tanks.${at}.tankId`, `cannot be used for step ${step.position}, ${step.title}`);
    }
  }
}
