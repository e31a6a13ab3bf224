import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { nobody, writeAudit } from '../audit/index.ts';
import { beginAttempt, forgetAttempts, networkOf, wasRight } from './attempts.ts';
import { refuseCommonPassword } from './common-passwords.ts';
import * as queries from './queries.ts';
import { hashSecret, newToken, tokenHash } from './secrets.ts';
import { dropAll as dropSecondFactor } from './second-factor-queries.ts';
import type { From, Opened } from './sign-in.ts';

export const invitationLivesMs = 7 * 24 * 3600 * 1000;

/** A fresh link for a person; earlier ones die. */
export async function makeLink(
  tx: Tx,
  {
    livesMs,
    personId,
    kind,
    createdById,
  }: { kind: 'password' | 'recovery'; createdById: number | null; personId: number; livesMs: number },
) {
  const token = newToken();
  const expiresAt = new Date(Date.now() + livesMs);
  await queries.revokeLinks(tx, { personId });
  await queries.addLink(tx, {
    kind,
    personId,
    createdById,
    tokenHash: Uint8Array.from(tokenHash(token)),
    expiresAt,
  });
  return { url: `/invitation/${token}`, expiresAt: expiresAt.toISOString() };
}

/** A fresh one-time link for somebody who lost theirs or forgot a password; earlier links die. */
export async function issuePasswordLink(db: Db, { personId, actor }: { actor: Actor; personId: number }) {
  return inTransaction(db, async (tx) => {
    const person = orNotFound(await queries.readPerson(tx, personId), `person ${personId}`);
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id: person.id,
      number: person.name,
      action: 'issued a one-time link for',
    });
    return makeLink(tx, {
      kind: 'password',
      personId: person.id,
      createdById: actor.personId,
      livesMs: invitationLivesMs,
    });
  });
}

/** Uses a one-time link up: sets the password, and ends older sign-ins. */
export async function choosePassword(
  db: Db,
  options: { token: string; password: string; from: From },
): Promise<Opened['person']> {
  const { person: invited } = await countedInvitation(db, {
    token: options.token,
    address: options.from.address,
  });
  await refuseCommonPassword(options.password, [invited.name, invited.displayName]);
  const passwordHash = await hashSecret(options.password);
  return inTransaction(db, async (tx) => {
    const link = await readInvitation(tx, options.token);
    if (!(await queries.useLink(tx, link.id))) throw deadLink();
    const person = await queries.changePerson(tx, link.person.id, {
      passwordHash,
      passwordChangedAt: new Date(),
    });
    await queries.endSignIns(tx, { personId: person.id });
    await writeAudit(tx.execute, nobody(options.from.address), {
      kind: 'person',
      id: person.id,
      number: person.name,
      action: `chose a password with a one-time ${link.kind === 'recovery' ? 'recovery ' : ''}link`,
    });
    await queries.forgetDevices(tx, person.id);
    await forgetAttempts(tx, 'password', `person ${person.id}`);
    if (link.kind === 'recovery') await dropSecondFactor(tx, person.id);
    return person;
  });
}

/** The open link behind a token that a stranger gives: how often one address may try is limited. */
export async function countedInvitation(db: Db, { token, address }: { token: string; address: string }) {
  const counted = await beginAttempt(db, {
    secret: 'link',
    account: null,
    source: networkOf(address),
    trusted: null,
  });
  const link = await readInvitation(db, token);
  await wasRight(db, counted);
  return link;
}

/** The open link behind a token and whose it is. */
async function readInvitation(db: Tx, token: string) {
  const link = await queries.readLink(db, Uint8Array.from(tokenHash(token)));
  if (
    link === null ||
    (link.kind !== 'password' && link.kind !== 'recovery') ||
    link.person === null ||
    !link.person.active
  )
    throw deadLink();
  return { id: link.id, kind: link.kind, person: link.person };
}
const deadLink = () =>
  new DomainError('not-found', 'This link was used already or has expired. Ask an owner for a fresh one.');
