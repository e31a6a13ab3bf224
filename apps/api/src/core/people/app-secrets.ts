import type { Db } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { isSealed, type SecretBox } from '../../kernel/secret-box.ts';
import * as queries from './second-factor-queries.ts';

const about = (personId: number) => `authenticator app of person ${personId}`;

/** The secret of an app as it is stored. */
export const sealAppSecret = (box: SecretBox, { personId, secret }: { personId: number; secret: string }) =>
  box.seal(secret, about(personId));

/** The secret of an app, to compare a code with. One from before secrets were sealed is as it is. */
export function openAppSecret(box: SecretBox, app: { personId: number; secret: string }): string {
  const secret = readAppSecret(box, app);
  if (secret === null)
    throw new DomainError(
      'conflict',
      'The server cannot read the secret of your app: the file with its key is another one than before. ' +
        'Use a recovery code or a passkey, and tell whoever runs the server.',
    );
  return secret;
}
const readAppSecret = (box: SecretBox, { personId, secret }: { personId: number; secret: string }) =>
  isSealed(secret) ? box.open(secret, about(personId)) : secret;

/**
 * Seals what was stored in clear, at every start: an upgrade and a restored backup may bring some.
 *
 * @returns how many were sealed, and how many the key does not open
 */
export async function sealStoredSecrets(
  db: Db,
  box: SecretBox,
): Promise<{ sealed: number; unreadable: number }> {
  const apps = await queries.readAppSecrets(db);
  let sealed = 0;
  for (const app of apps.filter(({ secret }) => !isSealed(secret)))
    sealed += await queries.replaceAppSecret(db, { ...app, by: sealAppSecret(box, app) });
  return { sealed, unreadable: apps.filter((app) => readAppSecret(box, app) === null).length };
}
