import type { invitePerson, Person, Role, setPreferences, updatePerson } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit, type Entry } from '../audit/index.ts';
import * as queries from './queries.ts';
import { forgetAttempts } from './attempts.ts';
import { refuseCommonPassword } from './common-passwords.ts';
import { invitationLivesMs, makeLink } from './links.ts';
import { provePassword } from './prove.ts';
import { hashSecret } from './secrets.ts';

type Row = NonNullable<Awaited<ReturnType<typeof queries.readPerson>>>;

export const toPerson = (row: Row): Person => ({
  id: row.id,
  name: row.name,
  displayName: row.displayName,
  email: row.email,
  roles: row.roles as Role[],
  active: row.active,
  joined: row.passwordHash !== null,
  hasPin: row.pinHash !== null,
  createdAt: row.createdAt.toISOString(),
  version: row.version,
});

/** Adds a person who will choose a password with the link. */
export async function invite(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof invitePerson.body> },
) {
  return inTransaction(db, async (tx) => {
    if ((await queries.readPersonByName(tx, input.name)) !== null)
      throw fieldError('name', 'is already in use');
    const row = await queries.addPerson(tx, {
      name: input.name,
      displayName: input.displayName,
      email: input.email || null,
      roles: input.roles,
      passwordHash: null,
    });
    await writeAudit(tx.execute, actor, { kind: 'person', id: row.id, number: row.name, action: 'invited' });
    return {
      person: toPerson(row),
      link: await makeLink(tx, {
        kind: 'password',
        personId: row.id,
        createdById: actor.personId,
        livesMs: invitationLivesMs,
      }),
    };
  });
}

/** Changes roles, name and whether the account is in use; switching it off ends its sign-ins at once. */
export async function change(
  db: Db,
  {
    actor,
    id,
    version,
    input,
  }: { actor: Actor; id: number; version: number; input: z.output<typeof updatePerson.body> },
): Promise<Person> {
  return inTransaction(db, async (tx) => {
    await queries.lockPersonAndOwners(tx.execute, id);
    const before = toPerson(orNotFound(await queries.readPerson(tx, id), `person ${id}`));
    assertVersion({ stored: before, version, what: 'This person' });
    if (id === actor.personId && (!input.active || !input.roles.includes('owner'))) {
      throw new DomainError(
        'conflict',
        'You cannot take the owner role or the account away from yourself; another owner can.',
      );
    }
    const after = toPerson(
      await queries.changePerson(tx, id, {
        displayName: input.displayName,
        email: input.email || null,
        roles: input.roles,
        active: input.active,
      }),
    );
    if (!(await queries.hasOwner(tx.execute)))
      throw new DomainError(
        'conflict',
        `${before.displayName} is the last owner who can sign in: make another owner first.`,
      );
    if (!after.active) await queries.endSignIns(tx, { personId: id });
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id,
      number: after.name,
      action: 'changed',
      changes: changesBetween(before, after),
    });
    return after;
  });
}

/** A new password for somebody who knows the old one; every other sign-in of theirs ends. */
export async function changeMyPassword(db: Db, options: { actor: Actor; current: string; password: string }) {
  const { actor } = options;
  const person = await provePassword(db, { actor, password: options.current, path: 'current' });
  await refuseCommonPassword(options.password, [person.name, person.displayName]);
  const passwordHash = await hashSecret(options.password);
  await inTransaction(db, async (tx) => {
    await queries.changePerson(tx, person.id, { passwordHash, passwordChangedAt: new Date() });
    await queries.endSignIns(tx, { personId: person.id, except: actor.signInId });
    await forgetAttempts(tx, 'password', `person ${person.id}`);
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id: person.id,
      number: person.name,
      action: 'changed the password',
    });
  });
}

/** A PIN for signing steps on a shared tablet; the password proves who sets it. */
export async function setMyPin(db: Db, options: { actor: Actor; password: string; pin: string }) {
  const { actor } = options;
  const person = await provePassword(db, { actor, password: options.password, path: 'password' });
  const pinHash = await hashSecret(options.pin);
  await inTransaction(db, async (tx) => {
    await queries.changePerson(tx, person.id, { pinHash });
    await forgetAttempts(tx, 'pin', `person ${person.id}`);
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id: person.id,
      number: person.name,
      action: 'set the PIN',
    });
  });
}

const note = (tx: Tx, actor: Actor, entry: Pick<Entry, 'action' | 'changes'>) =>
  writeAudit(tx.execute, actor, { kind: 'person', id: actor.personId, number: actor.name, ...entry });

/** Ends the sign-in of whoever asks. */
export const signOut = (db: Db, actor: Actor): Promise<void> =>
  inTransaction(db, async (tx) => {
    await queries.endSignIns(tx, { personId: actor.personId, only: actor.signInId });
    await note(tx, actor, { action: 'signed out' });
  });

/** Ends every sign-in of whoever asks, and knows none of the browsers any more. */
export const signOutEverywhere = (db: Db, actor: Actor): Promise<void> =>
  inTransaction(db, async (tx) => {
    await queries.endSignIns(tx, { personId: actor.personId });
    await queries.forgetDevices(tx, actor.personId);
    await note(tx, actor, { action: 'signed out everywhere' });
  });

/** Ends one sign-in of one's own, as of a tablet that was left behind. */
export const endMySignIn = (db: Db, { actor, id }: { actor: Actor; id: number }): Promise<void> =>
  inTransaction(db, async (tx) => {
    const { count } = await queries.endSignIns(tx, { personId: actor.personId, only: id });
    orNotFound(count || null, `open sign-in ${id} of yours`);
    await note(tx, actor, { action: 'ended another sign-in of' });
  });

/** How figures and pages are shown to whoever asks. */
export const setMyPreferences = (
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof setPreferences.body> },
): Promise<void> =>
  inTransaction(db, async (tx) => {
    const before = orNotFound(await queries.readPerson(tx, actor.personId), `person ${actor.personId}`);
    const { density, ...rest } = input;
    const after = await queries.changePerson(tx, actor.personId, { ...rest, ...(density && { density }) });
    await note(tx, actor, {
      action: 'changed the preferences of',
      changes: changesBetween(before, { units: after.units, theme: after.theme, density: after.density }),
    });
  });
