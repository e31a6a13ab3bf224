import type { Me, Role } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Db, Queryable } from '../../db/client.ts';
import { DomainError, orNotFound } from '../../kernel/refusal.ts';
import { nobody, writeAudit } from '../audit/index.ts';
import * as queries from './queries.ts';
import { sweep } from './attempt-queries.ts';
import { beginAttempt, networkOf, wasRight } from './attempts.ts';
import { knownDevice } from './known-device.ts';
import { isSecretOf } from './prove.ts';
import { newToken, tokenHash } from './secrets.ts';

const HOUR = 3600;
/** A sign-in ends after a shift without a request, and after two weeks whatever happens. */
export const idleS = 12 * HOUR;
export const absoluteS = 14 * 24 * HOUR;

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
 * Whose name and password these are. An unknown name and a wrong password are one answer in words,
 * status and time.
 */
export async function personOfPassword(
  db: Db,
  options: { name: string; password: string; device: string | null; from: From },
): Promise<Person> {
  const { password, from } = options;
  const name = options.name.normalize('NFKC').toLowerCase();
  const found = await queries.readPersonByName(db, name);
  const counted = await beginAttempt(db, {
    secret: 'password',
    account: found === null ? `nobody called ${name}` : `person ${found.id}`,
    source: networkOf(from.address),
    trusted: await knownDevice(db, { token: options.device, personId: found?.id }),
  });
  const isRight = await isSecretOf(db, { person: found, kind: 'password', secret: password });
  if (found === null || !isRight || !found.active) {
    if (counted.isNoted) {
      // What was typed for a name may be a password: it is written down only where it is a name.
      await writeAudit(db.execute, nobody(from.address), {
        kind: 'person',
        id: found?.id ?? 0,
        number: found?.name ?? null,
        action: 'was refused at sign-in',
      });
    }
    throw new DomainError('wrong-credentials', 'Name or password is wrong.');
  }
  await wasRight(db, counted);
  await sweep(db.execute);
  return found;
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
  await writeAudit(db.execute, who, {
    kind: 'person',
    id: person.id,
    number: person.name,
    action: 'signed in',
  });
  return token;
}

/** Ends the sign-in behind a token. */
export const endSignInOf = (db: Queryable, token: string) =>
  queries.endSignInOfToken(db, Uint8Array.from(tokenHash(token)));

/** The person behind a cookie, or `null` when its sign-in has ended. */
export async function actorOfToken(
  db: Db,
  { token, address }: { token: string; address: string },
): Promise<Actor | null> {
  const row = await queries.findActor(db.execute, { tokenHash: tokenHash(token), idleS, absoluteS });
  if (row === null) return null;
  const { stale, ...person } = row;
  if (stale) await queries.touchSignIn(db.execute, person.signInId);
  return { ...person, address };
}

/** What the web app needs to know about whoever is signed in. */
export async function readMe(db: Queryable, personId: number): Promise<Me> {
  const [person, shop, lacksSecondFactor] = await Promise.all([
    queries.readPerson(db, personId),
    queries.readShop(db),
    queries.lacksSecondFactor(db.execute, personId),
  ]);
  const { id, name, displayName, roles, units, theme, density, pinHash } = orNotFound(
    person,
    `person ${personId}`,
  );
  return {
    person: {
      id,
      name,
      displayName,
      roles: roles as Role[],
      units: units as Me['person']['units'],
      theme: theme as Me['person']['theme'],
      density: density as Me['person']['density'],
      hasPin: pinHash !== null,
    },
    shop: { name: shop.name, timeZone: shop.timeZone, currency: shop.currency },
    lacksSecondFactor,
  };
}
