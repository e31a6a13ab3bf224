import { randomBytes } from 'node:crypto';
import type { createFirstAdmin } from '@huelot/contracts';
import type { z } from 'zod';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { nobody, writeAudit } from '../audit/index.ts';
import * as queries from './queries.ts';
import { hashSecret, tokenHash } from './secrets.ts';
import { openSignIn, type From, type Opened } from './sign-in.ts';

const codeLivesMs = 30 * 24 * 3600 * 1000;

/**
 * A fresh code that guards the creation of the first owner, or `null` when somebody exists already. The code before
 * it dies.
 */
export async function issueFirstAdminCode(db: Db): Promise<string | null> {
  if (await queries.hasUsers(db)) return null;
  const code = randomBytes(9).toString('base64url');
  await inTransaction(db, async (tx) => {
    await queries.revokeLinks(tx, { kind: 'first-admin', personId: null });
    await queries.addLink(tx, {
      kind: 'first-admin',
      personId: null,
      createdById: null,
      tokenHash: Uint8Array.from(tokenHash(code)),
      expiresAt: new Date(Date.now() + codeLivesMs),
    });
  });
  return code;
}

/** The first owner, with the code from the console, inside the transaction that opens the shop. */
export async function addFirstAdmin(
  tx: Tx,
  { input, from }: { input: z.output<typeof createFirstAdmin.body>; from: From },
): Promise<Opened> {
  const link = await queries.readLink(tx, Uint8Array.from(tokenHash(input.code)));
  if (
    link === null ||
    link.kind !== 'first-admin' ||
    (await queries.hasUsers(tx)) ||
    !(await queries.useLink(tx, link.id))
  ) {
    throw new DomainError(
      'wrong-credentials',
      'That code is not the one on the console, or was used already.',
      {
        issues: [{ path: 'code', message: 'is not the one on the console, or was used already' }],
      },
    );
  }
  await queries.nameShop(tx, { name: input.shopName, timeZone: input.timeZone, currency: input.currency });
  const person = await queries.addPerson(tx, {
    name: input.name,
    displayName: input.displayName,
    email: null,
    roles: ['owner'],
    passwordHash: await hashSecret(input.password),
  });
  await writeAudit(tx.execute, nobody(from.address), {
    kind: 'person',
    id: person.id,
    number: person.name,
    action: 'created the first owner',
  });
  return { token: await openSignIn(tx, person, from), person };
}
