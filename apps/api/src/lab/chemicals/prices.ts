import { actorMay, type Actor } from '../../kernel/actor.ts';

/** What something cost is for who may see rates; others read that there is no price. */
export const pricedFor = <T extends { pricePerKg: string | null }>(actor: Actor, options: T): T =>
  actorMay(actor, 'rates.read') ? options : { ...options, pricePerKg: null };

/** The price that a change leaves: one that was left out stays, and nobody takes away one that they cannot see. */
export const priceAfter = (
  actor: Actor,
  { given, before }: { before: string | null; given: string | null | undefined },
): string | null =>
  given === undefined || (given === null && !actorMay(actor, 'rates.read')) ? before : given;

/** The history is read by people who may not see rates: it says that a price changed, and not which. */
export function changedWords(before: { pricePerKg: string | null }, after: { pricePerKg: string | null }) {
  return Number(before.pricePerKg) === Number(after.pricePerKg) ? 'changed' : 'changed, with its price';
}
export const unpriced = <T extends { pricePerKg: string | null }>({ pricePerKg: _, ...of }: T) => of;
