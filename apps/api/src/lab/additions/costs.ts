import type { Addition, AdditionSummary, BathLife } from '@huelot/contracts';
import { actorMay, type Actor } from '../../kernel/actor.ts';

const maySee = (actor: Actor) => actorMay(actor, 'rates.read');

/** An addition as this person may see it: what it cost is for who may see rates. */
export function redactCosts(actor: Actor, addition: Addition): Addition {
  const { done } = addition;
  if (done === null || maySee(actor)) return addition;
  return {
    ...addition,
    done: { ...done, cost: null, lines: done.lines.map((line) => ({ ...line, cost: null })) },
  };
}
/** Likewise what is listed of it. */
export const summaryFor = (actor: Actor, options: AdditionSummary): AdditionSummary =>
  maySee(actor) ? options : { ...options, cost: null };
/** Likewise the life of a bath. */
export const bathUsageCosts = (actor: Actor, life: BathLife): BathLife =>
  maySee(actor)
    ? life
    : { ...life, chemicals: life.chemicals.map((chemical) => ({ ...chemical, cost: null })) };
