import type { Queryable } from '../../db/client.ts';
import * as queries from './queries.ts';
import { newToken, tokenHash } from './secrets.ts';

/** A browser keeps it as long as browsers keep any cookie. */
export const deviceLivesS = 400 * 24 * 3600;
const devicesOfAPerson = 20;

const hashOf = (token: string) => Uint8Array.from(tokenHash(token));

/** The name under which a browser counts for a person who signed in with it before, or null. */
export async function knownDevice(
  db: Queryable,
  { token, personId }: { token: string | null; personId: number | undefined },
): Promise<string | null> {
  if (token === null || personId === undefined) return null;
  const hash = hashOf(token);
  return (await queries.readDevice(db, { tokenHash: hash, personId })) === null
    ? null
    : `device ${Buffer.from(hash).toString('base64url')}`;
}

/**
 * Remembers that a person signed in with this browser and returns its token. A token that this service never gave is
 * not taken up: a fresh one is.
 */
export async function rememberDevice(
  db: Queryable,
  { token, personId }: { token: string | null; personId: number },
): Promise<string> {
  const kept = token !== null && (await queries.isDeviceOfAnybody(db, hashOf(token))) ? token : newToken();
  await queries.saveDevice(db, { tokenHash: hashOf(kept), personId });
  await queries.dropOldDevices(db.execute, { personId, keep: devicesOfAPerson });
  return kept;
}
