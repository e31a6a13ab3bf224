import type { SqlExecutor } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { readDays } from './queries.ts';

/** A clock of a tablet may be so far ahead. */
const SKEW_MS = 60_000;

/** Refuses a moment that has not come. */
export function assertPast({ at, now, field }: { at: string; now: Date; field: string }): void {
  if (new Date(at).getTime() > now.getTime() + SKEW_MS) throw fieldError(field, 'must not be in the future');
}

/**
 * The calendar day of something that is entered when it happens, or the day after at latest: later nobody could
 * tell a day that was missed from one that was filled in.
 */
export async function dayOf(
  execute: SqlExecutor,
  {
    at,
    now,
    field,
    timeZone,
  }: {
    at: string;
    now: Date;
    field: string;
    /** Null is that of the shop. */
    timeZone: string | null;
  },
): Promise<{ day: string; timeZone: string }> {
  assertPast({ at, now, field });
  const { yesterday, ...found } = await readDays(execute, { at: new Date(at), now, timeZone });
  if (found.day < yesterday)
    throw fieldError(field, `must be today or yesterday, ${yesterday}: an older day is not filled in`);
  return found;
}
