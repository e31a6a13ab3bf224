import type { SecondFactorWanted } from '@huelot/contracts';
import type { Db } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import type { SecretBox } from '../../kernel/secret-box.ts';
import { writeAudit } from '../audit/index.ts';
import { openAppSecret } from './app-secrets.ts';
import { beginAttempt, networkOf, wasRight } from './attempts.ts';
import { stepOfCode } from './authenticator-app.ts';
import { authenticationOptions, checkPasskey, type PasskeySite } from './passkeys.ts';
import * as people from './queries.ts';
import { useRecoveryCode } from './recovery-codes.ts';
import * as queries from './second-factor-queries.ts';
import { newToken, tokenHash } from './secrets.ts';
import { openSignIn, type From, type Opened } from './sign-in.ts';

const stepLivesMs = 10 * 60 * 1000;
export const stepLivesS = stepLivesMs / 1000;

/** What a browser sends is of another space than what the service names itself: neither can be given for the other. */
const hashOf = ({ cookie, name }: StepKey) =>
  Uint8Array.from(tokenHash(cookie === undefined ? `name ${name}` : `cookie ${cookie}`));
type StepKey = { cookie: string; name?: undefined } | { cookie?: undefined; name: string };

/** A sign-in that waits for its second factor: the token for the cookie, and what may be given. */
export interface Waiting {
  step: string;
  wanted: SecondFactorWanted;
}

/** Opens a sign-in for somebody whose password was right, or says which second factor is wanted. */
export async function enter(
  db: Db,
  { person, site, from }: { person: Opened['person']; site: PasskeySite; from: From },
): Promise<Opened | Waiting> {
  const [passkeys, app] = await Promise.all([
    queries.readPasskeys(db, person.id),
    queries.readApp(db, person.id),
  ]);
  const hasApp = app !== null && app.confirmedAt !== null;
  if (passkeys.length === 0 && !hasApp) return { token: await openSignIn(db, person, from), person };
  const passkey =
    passkeys.length === 0 ? null : await authenticationOptions(db, { site, personId: person.id });
  const step = await beginStep(db, { personId: person.id, challenge: passkey?.challenge ?? null });
  return {
    step,
    wanted: { secondFactor: { passkey: passkey === null ? null : { ...passkey }, app: hasApp } },
  };
}

interface StepBody {
  personId: number | null;
  challenge: string | null;
}
/** Keeps what is under way for ten minutes and returns the token for the cookie. */
async function beginStep(db: Db, step: StepBody): Promise<string> {
  const cookie = newToken();
  await keepStep(db, { cookie }, step);
  return cookie;
}
/** The same for somebody who is signed in: a name says what it is. */
export const beginNamedStep = (db: Db, name: string, step: StepBody) => keepStep(db, { name }, step);
const keepStep = (db: Db, key: StepKey, step: StepBody) =>
  queries.saveStep(db, { ...step, tokenHash: hashOf(key), expiresAt: new Date(Date.now() + stepLivesMs) });

/** The challenge of a step, which is used up whatever comes of it. */
export async function takeChallenge(db: Db, key: StepKey) {
  const step = await queries.readStep(db, hashOf(key));
  if (step === null || step.challenge === null || !(await queries.takeStep(db, step.tokenHash)))
    throw startOver();
  return { personId: step.personId, challenge: step.challenge };
}
const startOver = () =>
  new DomainError('wrong-credentials', 'That took too long, or was used already. Start over.');

/** The second step with six digits of an app, or with a recovery code; each works once. */
export async function signInWithCode(
  db: Db,
  {
    step: cookie,
    code,
    from,
    secrets,
  }: { step: string | null; code: string; from: From; secrets: SecretBox },
): Promise<Opened> {
  const step = cookie === null ? null : await queries.readStep(db, hashOf({ cookie }));
  const person = step?.personId ? await people.readPerson(db, step.personId) : null;
  if (step === null || !person?.active) throw startOver();
  const account = `person ${person.id}`;
  // Whoever comes here knows the password, so that no stranger can use the limit up.
  const counted = await beginAttempt(db, {
    secret: 'code',
    account,
    source: networkOf(from.address),
    trusted: null,
  });
  const who = {
    personId: person.id,
    displayName: person.displayName,
    roles: person.roles,
    address: from.address,
  };
  const about = { kind: 'person', id: person.id, number: person.name } as const;
  const isRecovery = !/^\d{6}$/.test(code);
  const isRight = isRecovery
    ? await useRecoveryCode(db, person.id, code)
    : await isAppCode(db, { personId: person.id, code, secrets });
  if (!isRight) {
    await writeAudit(db.execute, who, { ...about, action: 'gave a wrong second factor for' });
    throw new DomainError('wrong-credentials', 'That code is wrong, or was used already.', {
      issues: [{ path: 'code', message: 'is wrong, or was used already' }],
    });
  }
  await wasRight(db, counted);
  if (!(await queries.takeStep(db, step.tokenHash))) throw startOver();
  if (isRecovery) await writeAudit(db.execute, who, { ...about, action: 'used a recovery code for' });
  return { token: await openSignIn(db, person, from), person };
}

async function isAppCode(
  db: Db,
  { personId, code, secrets }: { personId: number; code: string; secrets: SecretBox },
): Promise<boolean> {
  const app = await queries.readApp(db, personId);
  if (app === null || app.confirmedAt === null) return false;
  const used = stepOfCode(openAppSecret(secrets, app), code, Date.now());
  return used !== null && (await queries.useStep(db, personId, used));
}

/** Begins to sign in with a passkey alone. How often one address may begin is limited. */
export async function beginPasskeySignIn(db: Db, { site, from }: { site: PasskeySite; from: From }) {
  await beginAttempt(db, {
    secret: 'passkey',
    account: null,
    source: networkOf(from.address),
    trusted: null,
  });
  const options = await authenticationOptions(db, { site, personId: null });
  return { options, step: await beginStep(db, { personId: null, challenge: options.challenge }) };
}

/** Signs in with a passkey: the second step after a password, or all of it. */
export async function signInWithPasskey(
  db: Db,
  options: { step: string | null; response: { id: string }; site: PasskeySite; from: From },
): Promise<Opened> {
  if (options.step === null) throw startOver();
  const { personId, challenge } = await takeChallenge(db, { cookie: options.step });
  const { person } = await checkPasskey(db, { ...options, challenge });
  if (!person.active || (personId !== null && personId !== person.id))
    throw new DomainError('wrong-credentials', 'That passkey was not accepted.');
  return { token: await openSignIn(db, person, options.from), person };
}
