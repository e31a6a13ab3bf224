import type { invitePerson, Person, Role, updatePerson } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './queries.ts';
import { hashSecret, newToken, tokenHash, verifySecret } from './secrets.ts';
import { openSignIn, type From, type Opened } from './sign-in.ts';

const DAY = 24 * 3600 * 1000;
const linkLivesMs = 7 * DAY;

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
export async function invite(db: Db, of: { actor: Actor; input: z.output<typeof invitePerson.body> }) {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    if ((await queries.readPersonByName(tx, input.name)) !== null) throw invalid('name', 'is taken already');
    const row = await queries.addPerson(tx, {
      name: input.name,
      displayName: input.displayName,
      email: input.email || null,
      roles: input.roles,
      passwordHash: null,
    });
    await record(tx.run, actor, { kind: 'person', id: row.id, number: row.name, action: 'invited' });
    return { person: toPerson(row), link: await makeLink(tx, { actor, personId: row.id }) };
  });
}

async function makeLink(tx: Tx, of: { actor: Actor; personId: number }) {
  const token = newToken();
  const expiresAt = new Date(Date.now() + linkLivesMs);
  await queries.killLinks(tx, { kind: 'password', personId: of.personId });
  await queries.addLink(tx, {
    kind: 'password',
    personId: of.personId,
    createdById: of.actor.personId,
    tokenHash: Uint8Array.from(tokenHash(token)),
    expiresAt,
  });
  return { url: `/invitation/${token}`, expiresAt: expiresAt.toISOString() };
}

/** A fresh one-time link for somebody who lost theirs or forgot a password; earlier links die. */
export async function issuePasswordLink(db: Db, of: { actor: Actor; personId: number }) {
  return inTransaction(db, async (tx) => {
    const person = found(await queries.readPerson(tx, of.personId), `person ${of.personId}`);
    await record(tx.run, of.actor, {
      kind: 'person',
      id: person.id,
      number: person.name,
      action: 'issued a one-time link for',
    });
    return makeLink(tx, of);
  });
}

/** Changes roles, name and whether the account is in use; switching it off ends its sign-ins at once. */
export async function change(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: z.output<typeof updatePerson.body> },
): Promise<Person> {
  const { actor, id, version, input } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockPerson(tx.run, id);
    const before = toPerson(found(await queries.readPerson(tx, id), `person ${id}`));
    checkVersion({ stored: before, version, what: 'This person' });
    if (id === actor.personId && (!input.active || !input.roles.includes('owner'))) {
      throw new Refusal(
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
    if (!after.active) await queries.endSignIns(tx, { personId: id });
    await record(tx.run, actor, {
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
export async function changeMyPassword(db: Db, of: { actor: Actor; current: string; password: string }) {
  const { actor } = of;
  const person = found(await queries.readPerson(db, actor.personId), 'account');
  if (!(await verifySecret(person.passwordHash, of.current)))
    throw invalid('current', 'is not your password');
  const passwordHash = await hashSecret(of.password);
  await inTransaction(db, async (tx) => {
    await queries.changePerson(tx, person.id, { passwordHash, passwordChangedAt: new Date() });
    await queries.endSignIns(tx, { personId: person.id, except: actor.signInId });
    await record(tx.run, actor, {
      kind: 'person',
      id: person.id,
      number: person.name,
      action: 'changed the password',
    });
  });
}

/** A PIN for signing steps on a shared tablet; the password proves who sets it. */
export async function setMyPin(db: Db, of: { actor: Actor; password: string; pin: string }) {
  const { actor } = of;
  const person = found(await queries.readPerson(db, actor.personId), 'account');
  if (!(await verifySecret(person.passwordHash, of.password)))
    throw invalid('password', 'is not your password');
  const pinHash = await hashSecret(of.pin);
  await inTransaction(db, async (tx) => {
    await queries.changePerson(tx, person.id, { pinHash });
    await record(tx.run, actor, {
      kind: 'person',
      id: person.id,
      number: person.name,
      action: 'set the PIN',
    });
  });
}

/** Uses a one-time link up: sets the password, ends older sign-ins, and signs in. */
export async function choosePassword(
  db: Db,
  of: { token: string; password: string; from: From },
): Promise<Opened> {
  const passwordHash = await hashSecret(of.password);
  return inTransaction(db, async (tx) => {
    const link = await readInvitation(tx, of.token);
    if (!(await queries.useLink(tx, link.id))) throw deadLink();
    const person = await queries.changePerson(tx, link.person.id, {
      passwordHash,
      passwordChangedAt: new Date(),
    });
    await queries.endSignIns(tx, { personId: person.id });
    return { token: await openSignIn(tx, person, of.from), person };
  });
}

/** The open link behind a token and whose it is. */
export async function readInvitation(db: Tx, token: string) {
  const link = await queries.readLink(db, Uint8Array.from(tokenHash(token)));
  if (link === null || link.kind !== 'password' || link.person === null || !link.person.active)
    throw deadLink();
  return { id: link.id, person: link.person };
}
const deadLink = () =>
  new Refusal('not-found', 'This link was used already or has expired. Ask an owner for a fresh one.');
