import type { Traveler } from '@huelot/contracts';

/** What the page of a lot at the tank reads anew, again and again. */
export const lotKey = 'huelot:lot-at-tank';

/**
 * The newer of two readings of a lot at the tank. Without network the browser answers with what it kept, which may be
 * older than what a sign-off was answered: the page never goes back to a step that is signed.
 *
 * @example
 * traveler = newerOf(traveler, reply);
 */
export function newerOf(shown: Traveler, other: Traveler): Traveler {
  if (shown.lot.id !== other.lot.id || other.id > shown.id) return other;
  return other.id < shown.id || other.lot.version < shown.lot.version ? shown : other;
}
