import type { MySecondFactor, SignInRules, updateSignInRules } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Queryable, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import type { SecretBox } from '../../kernel/secret-box.ts';
import { changesBetween, writeAudit } from '../audit/index.ts';
import { openAppSecret, sealAppSecret } from './app-secrets.ts';
import { beginAttempt, wasRight } from './attempts.ts';
import { appUri, newAppSecret, stepOfCode } from './authenticator-app.ts';
import { checkPasskey, readRegistration, type PasskeySite } from './passkeys.ts';
import * as people from './queries.ts';
import { makeRecoveryCodes } from './recovery-codes.ts';
import * as queries from './second-factor-queries.ts';
import { takeChallenge } from './sign-in-steps.ts';

/** Names what is under way on one sign-in. */
export const stepOf = (actor: Actor, what: 'add' | 'prove') =>
  `${what} a passkey on sign-in ${actor.signInId}`;

export async function readMine(
  db: Queryable,
  { actor, origin }: { actor: Actor; origin: string },
): Promise<MySecondFactor> {
  const [passkeys, app, recoveryCodesLeft, { secondFactorRoles }] = await Promise.all([
    queries.readPasskeys(db, actor.personId),
    queries.readApp(db, actor.personId),
    queries.countCodes(db, actor.personId),
    queries.readRules(db),
  ]);
  return {
    isRequired: secondFactorRoles.some((role) => actor.roles.includes(role)),
    passkeys: passkeys.map(({ id, name, createdAt, lastUsedAt }) => ({
      ...{ id, name },
      createdAt: createdAt.toISOString(),
      lastUsedAt: lastUsedAt?.toISOString() ?? null,
    })),
    passkeyOrigin: origin,
    appSince: app?.confirmedAt?.toISOString() ?? null,
    recoveryCodesLeft,
  };
}

const note = (tx: Tx, actor: Actor, action: string) =>
  writeAudit(tx.execute, actor, { kind: 'person', id: actor.personId, number: actor.name, action });

/** Codes come with the first second factor; who has some keeps them. */
const firstCodes = async (tx: Tx, personId: number) =>
  (await queries.countCodes(tx, personId)) > 0 ? null : makeRecoveryCodes(tx, personId);

export async function addPasskey(
  db: Db,
  { actor, site, name, response }: { actor: Actor; site: PasskeySite; name: string; response: unknown },
) {
  const { challenge } = await takeChallenge(db, { name: stepOf(actor, 'add') });
  const passkey = await readRegistration({ site, challenge, response });
  return inTransaction(db, async (tx) => {
    if ((await queries.readPasskey(tx, passkey.credentialId)) !== null)
      throw new DomainError('already-exists', 'That passkey was added already.');
    await queries.addPasskey(tx, { ...passkey, personId: actor.personId, name });
    await note(tx, actor, `added the passkey ${name} for`);
    return { recoveryCodes: await firstCodes(tx, actor.personId) };
  });
}

export const renamePasskey = (db: Db, { actor, id, name }: { actor: Actor; id: number; name: string }) =>
  inTransaction(db, async (tx) => {
    const count = await queries.renamePasskey(tx, { id, personId: actor.personId }, name);
    orNotFound(count || null, `passkey ${id} of yours`);
    await note(tx, actor, `named a passkey ${name} of`);
  });

export const removePasskey = (db: Db, { actor, id }: { actor: Actor; id: number }) =>
  inTransaction(db, async (tx) => {
    orNotFound(
      (await queries.dropPasskey(tx, { id, personId: actor.personId })) || null,
      `passkey ${id} of yours`,
    );
    await note(tx, actor, 'removed a passkey of');
    await dropCodesOfNothing(tx, actor.personId);
  });

/** Offers a secret; it counts once a code made with it has been given. */
export async function beginApp(db: Db, { actor, secrets }: { actor: Actor; secrets: SecretBox }) {
  const secret = newAppSecret();
  const { personId } = actor;
  const stored = sealAppSecret(secrets, { personId, secret });
  const [offered] = await queries.offerApp(db.execute, { personId, secret: stored });
  if (offered === undefined)
    throw new DomainError('already-exists', 'You have an app already: remove it before you add another.');
  return { secret, uri: appUri(secret, actor.name) };
}

export async function confirmApp(
  db: Db,
  { actor, code, secrets }: { actor: Actor; code: string; secrets: SecretBox },
) {
  const { personId } = actor;
  const app = await queries.readApp(db, personId);
  if (app === null || app.confirmedAt !== null)
    throw new DomainError('conflict', 'No app waits to be confirmed: begin to add one first.');
  const source = `person ${personId}`;
  const counted = await beginAttempt(db, {
    secret: 'code',
    account: source,
    source,
    trusted: `sign-in ${actor.signInId}`,
  });
  const step = stepOfCode(openAppSecret(secrets, app), code, Date.now());
  if (step === null) throw fieldError('code', 'is not what the app shows now; see that its clock is right');
  await wasRight(db, counted);
  return inTransaction(db, async (tx) => {
    await queries.useStep(tx, personId, step);
    await queries.confirmApp(tx, personId);
    await note(tx, actor, 'added an authenticator app for');
    return { recoveryCodes: await firstCodes(tx, personId) };
  });
}

export const removeApp = (db: Db, { actor }: { actor: Actor }) =>
  inTransaction(db, async (tx) => {
    orNotFound((await queries.dropApp(tx, actor.personId)) || null, 'app of yours');
    await note(tx, actor, 'removed the authenticator app of');
    await dropCodesOfNothing(tx, actor.personId);
  });

/** Recovery codes stand in for a second factor: without one they would be a way in of their own. */
async function dropCodesOfNothing(tx: Tx, personId: number) {
  if (!(await hasFactor(tx, personId))) await queries.replaceCodes(tx, personId, []);
}

export const renewCodes = (db: Db, { actor }: { actor: Actor }) =>
  inTransaction(db, async (tx) => {
    if (!(await hasFactor(tx, actor.personId)))
      throw new DomainError('conflict', 'Recovery codes stand in for a second factor: add one first.');
    await note(tx, actor, 'made fresh recovery codes for');
    return { recoveryCodes: await makeRecoveryCodes(tx, actor.personId) };
  });
const hasFactor = async (tx: Tx, personId: number) =>
  (await queries.readPasskeys(tx, personId)).length > 0 ||
  Boolean((await queries.readApp(tx, personId))?.confirmedAt);

/** A passkey in place of the password, before a signature or a change of the account. */
export async function proveWithPasskey(
  db: Db,
  { actor, site, response }: { actor: Actor; site: PasskeySite; response: { id: string } },
): Promise<void> {
  const { challenge } = await takeChallenge(db, { name: stepOf(actor, 'prove') });
  const { personId } = await checkPasskey(db, { site, challenge, response });
  if (personId !== actor.personId) throw new DomainError('wrong-credentials', 'That passkey is not yours.');
  await people.markProved(db, actor.signInId, 'passkey');
}

export const readRules = (db: Queryable): Promise<SignInRules> => queries.readRules(db);

/** Chooses which roles need a second factor. */
export const changeRules = (
  db: Db,
  {
    actor,
    version,
    input,
  }: { actor: Actor; version: number; input: z.output<typeof updateSignInRules.body> },
): Promise<SignInRules> =>
  inTransaction(db, async (tx) => {
    await queries.lockRules(tx.execute);
    const before = await queries.readRules(tx);
    assertVersion({ stored: before, version, what: 'The setup of the shop' });
    await queries.changeRules(tx, input.secondFactorRoles);
    await writeAudit(tx.execute, actor, {
      kind: 'shop',
      id: 1,
      action: 'changed who needs a second factor',
      changes: changesBetween(before, input),
    });
    return queries.readRules(tx);
  });
