import type { Role } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Db } from '../../db/client.ts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../audit/index.ts';
import { beginAttempt, wasRight, type Secret } from './attempts.ts';
import * as queries from './queries.ts';
import { hashSecret, isOutdated, verifySecret } from './secrets.ts';

type Person = NonNullable<Awaited<ReturnType<typeof queries.readPerson>>>;
const columns = { password: 'passwordHash', pin: 'pinHash' } as const;

/**
 * Whether this is a person's password or PIN. The caller has counted the attempt. A hash with older parameters is
 * made anew, now that the secret is known.
 */
export async function isSecretOf(
  db: Db,
  { person, kind, secret }: { person: Person | null; kind: keyof typeof columns; secret: string },
): Promise<boolean> {
  const column = columns[kind];
  const stored = person?.[column] ?? null;
  const isRight = await verifySecret(stored, secret);
  if (isRight && person !== null && stored !== null && isOutdated(stored))
    await queries.rehash(db, person.id, { column, stored, fresh: await hashSecret(secret) });
  return isRight;
}

/** Takes a credential for the signatures of the next minutes. */
export async function proveAgain(
  db: Db,
  { actor, kind, secret }: { actor: Actor; kind: keyof typeof columns; secret: string },
): Promise<void> {
  const person = await checkSecret(db, { actor, personId: actor.personId, kind, secret });
  if (person === null)
    throw fieldError('secret', kind === 'pin' ? 'is not your PIN' : 'is not your password');
  await queries.markProved(db, actor.signInId, kind);
}

/** Counts and checks a secret that somebody who is signed in gives; each failure is in the audit trail. */
async function checkSecret(
  db: Db,
  options: { actor: Actor; personId: number; kind: keyof typeof columns; secret: string },
): Promise<Person | null> {
  const { actor, personId, kind, secret } = options;
  const counted = await beginAttempt(db, {
    secret: kind satisfies Secret,
    account: `person ${personId}`,
    source: `person ${actor.personId}`,
    trusted: kind === 'password' ? `sign-in ${actor.signInId}` : null,
  });
  const person = await queries.readPerson(db, personId);
  if ((await isSecretOf(db, { person, kind, secret })) && person?.active) {
    await wasRight(db, counted);
    return person;
  }
  await writeAudit(db.execute, actor, {
    kind: 'person',
    id: personId,
    number: person?.name ?? null,
    action: kind === 'pin' ? 'gave a wrong PIN for' : 'gave a wrong password for',
  });
  return null;
}

/**
 * The password of whoever is signed in, asked again before something that a borrowed screen must not do.
 *
 * @example
 * await provePassword(db, { actor, password: input.current, path: 'current' });
 */
export async function provePassword(
  db: Db,
  { actor, password, path }: { actor: Actor; password: string; path: string },
): Promise<Person> {
  const person = await checkSecret(db, {
    actor,
    personId: actor.personId,
    kind: 'password',
    secret: password,
  });
  if (person === null) throw fieldError(path, 'is not your password');
  return person;
}

/**
 * The person whose PIN was given on somebody else's screen.
 *
 * @example
 * const signer = await personOfPin(db, { actor, personId: 7, pin: '4711', path: 'signer.pin' });
 */
export async function personOfPin(
  db: Db,
  options: { actor: Actor; personId: number; pin: string; path: string },
): Promise<{ personId: number; displayName: string; roles: Role[]; address: string }> {
  const { actor, personId, pin, path } = options;
  const person = await checkSecret(db, { actor, personId, kind: 'pin', secret: pin });
  if (person === null) {
    throw new DomainError('wrong-credentials', 'That PIN is wrong.', {
      issues: [{ path, message: 'is wrong' }],
    });
  }
  const { id, displayName, roles } = person;
  return { personId: id, displayName, roles: roles as Role[], address: actor.address };
}
