import type { releaseLots } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { issueTraveler } from '../travelers/index.ts';
import { needsTank, planLine } from './plan.ts';
import { lockLine, readLineFacts, type LineFacts } from './plan-queries.ts';
import * as queries from './queries.ts';

type Input = z.output<typeof releaseLots.body>;

/**
 * Makes one lot of each load and issues its traveler, all or none. Every limit is checked again here: what fits on
 * the rack, what the supply gives, what each tank holds, what the metal must not touch.
 */
export function release(db: Db, of: { actor: Actor; lineId: number; input: Input }) {
  const { actor, lineId, input } = of;
  return inTransaction(db, async (tx) => {
    await lockLine(tx.run, lineId);
    const facts = found(await readLineFacts(tx.run, lineId), `order line ${lineId}`);
    check(facts, input);
    const ids: number[] = [];
    for (const quantity of input.loads) {
      const number = await nextNumber(tx.run, 'lot');
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
      await record(tx.run, actor, {
        kind: 'lot',
        id,
        number,
        action: `released ${quantity} pieces of ${facts.orderNumber} line ${facts.position}`,
      });
      await issueTraveler(tx, { actor, lotId: id, kind: 'first', quantity, changeNote: '' });
      ids.push(id);
    }
    return queries.readLotsByIds(tx.run, ids);
  });
}

function check(facts: LineFacts, input: Input): void {
  const plan = planLine(facts, input);
  if (plan.obstacles.length > 0) throw new Refusal('conflict', plan.obstacles.join(' '));
  if (input.rackId !== plan.rackId) throw invalid('rackId', 'is not a rack that may go through this route');
  if (input.supplyId !== plan.supplyId) throw invalid('supplyId', 'is not a supply that can run this route');
  const sum = input.loads.reduce((total, quantity) => total + quantity, 0);
  const here = Math.min(plan.toRelease, (facts.receivedCount ?? 0) - facts.inLots);
  if (sum > here)
    throw invalid('loads', `make ${sum} pieces together; ${Math.max(0, here)} are here and not in a lot yet`);
  input.loads.forEach((quantity, at) => {
    if (quantity > plan.piecesPerLoad) {
      throw invalid(
        `loads.${at}`,
        `must be at most ${plan.piecesPerLoad}: ${plan.binding.join(' and ')} limits the load`,
      );
    }
  });
  for (const step of plan.steps.filter(({ contents }) => needsTank(contents))) {
    const at = input.tanks.findIndex(({ position }) => position === step.position);
    const tank = input.tanks[at];
    if (tank === undefined) throw invalid('tanks', `step ${step.position}, ${step.title}, has no tank`);
    if (!step.tanks.some(({ id }) => id === tank.tankId)) {
      throw invalid(`tanks.${at}.tankId`, `cannot be used for step ${step.position}, ${step.title}`);
    }
  }
}
