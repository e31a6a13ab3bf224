import type { Me, Role } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import type { Db, Queryable } from '../../db/client.ts';
import { Refusal, found } from '../../refusal.ts';
import { nobody, record } from '../audit/index.ts';
import * as queries from './queries.ts';
import { newToken, tokenHash, verifySecret } from './secrets.ts';

const HOUR = 3600;
/** A sign-in ends after a shift without a request, and after two weeks whatever happens. */
export const idleS = 12 * HOUR;
export const absoluteS = 14 * 24 * HOUR;

/** Guessing is slowed by account and by address; the window passes by itself, so nobody is locked out for good. */
const throttle = { windowS: 15 * 60, perAccount: 10, perAddress: 50 };

type Person = NonNullable<Awaited<ReturnType<typeof queries.readPerson>>>;
export interface From {
  address: string;
  agent: string;
}
/** A fresh sign-in: its token, for the cookie, and whose it is. */
export interface Opened {
  token: string;
  person: Person;
}

/**
 * Checks name and password and opens a sign-in. An unknown name and a wrong password are one answer in words,
 * status and time.
 */
export async function signInWithPassword(
  db: Db,
  of: { name: string; password: string; from: From },
): Promise<Opened> {
  const name = of.name.toLowerCase();
  await refuseGuessing(db, name, of.from.address);
  const person = await queries.readPersonByName(db, of.name);
  const right = await verifySecret(person?.passwordHash ?? null, of.password);
  if (person === null || !right || !person.active) {
    await queries.addFailure(db, name, of.from.address);
    await record(db.run, nobody(of.from.address), {
      kind: 'person',
      id: person?.id ?? 0,
      number: of.name,
      action: 'was refused at sign-in',
    });
    throw new Refusal('wrong-credentials', 'Name or password is wrong.');
  }
  await queries.clearFailures(db, name);
  return { token: await openSignIn(db, person, of.from), person };
}

async function refuseGuessing(db: Db, name: string, address: string) {
  const failures = await queries.countFailures(db.run, { name, address, windowS: throttle.windowS });
  if (failures.account >= throttle.perAccount || failures.address >= throttle.perAddress) {
    throw new Refusal(
      'too-many-requests',
      'Too many wrong attempts. Wait a quarter of an hour, then try again.',
    );
  }
}

/** Opens a sign-in and returns its token, which is nowhere stored in the clear. */
export async function openSignIn(db: Queryable, person: Person, from: From): Promise<string> {
  const token = newToken();
  await queries.addSignIn(db, {
    personId: person.id,
    tokenHash: Uint8Array.from(tokenHash(token)),
    address: from.address,
    agent: from.agent.slice(0, 300),
  });
  const who = {
    personId: person.id,
    displayName: person.displayName,
    roles: person.roles,
    address: from.address,
  };
  await record(db.run, who, { kind: 'person', id: person.id, number: person.name, action: 'signed in' });
  return token;
}

/** The person behind a cookie, or `null` when its sign-in has ended. */
export async function actorOfToken(db: Db, of: { token: string; address: string }): Promise<Actor | null> {
  const row = await queries.findActor(db.run, { tokenHash: tokenHash(of.token), idleS, absoluteS });
  if (row === null) return null;
  const { stale, ...person } = row;
  if (stale) await queries.touchSignIn(db.run, person.signInId);
  return { ...person, address: of.address };
}

/**
 * The person whose PIN was given at a shared tablet. Wrong PINs are throttled like wrong passwords.
 *
 * @example
 * const signer = await personOfPin(db, { personId: 7, pin: '4711', address });
 */
export async function personOfPin(
  db: Db,
  of: { personId: number; pin: string; address: string },
): Promise<{ personId: number; displayName: string; roles: Role[]; address: string }> {
  const account = `pin ${of.personId}`;
  await refuseGuessing(db, account, of.address);
  const person = await queries.readPerson(db, of.personId);
  const right = await verifySecret(person?.pinHash ?? null, of.pin);
  if (person === null || !right || !person.active) {
    await queries.addFailure(db, account, of.address);
    throw new Refusal('wrong-credentials', 'That PIN is wrong.', {
      issues: [{ path: 'signer.pin', message: 'is wrong' }],
    });
  }
  await queries.clearFailures(db, account);
  return {
    personId: person.id,
    displayName: person.displayName,
    roles: person.roles as Role[],
    address: of.address,
  };
}

/** What the web app needs to know about whoever is signed in. */
export async function readMe(db: Queryable, personId: number): Promise<Me> {
  const [person, shop] = await Promise.all([queries.readPerson(db, personId), queries.readShop(db)]);
  const { id, name, displayName, roles, units, theme, pinHash } = found(person, `person ${personId}`);
  return {
    person: {
      id,
      name,
      displayName,
      roles: roles as Role[],
      units: units as Me['person']['units'],
      theme: theme as Me['person']['theme'],
      hasPin: pinHash !== null,
    },
    shop: { name: shop.name, timeZone: shop.timeZone, currency: shop.currency },
  };
}
