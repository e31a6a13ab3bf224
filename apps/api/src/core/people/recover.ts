import { inTransaction, type Db } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { writeAudit } from '../audit/index.ts';
import { makeLink } from './links.ts';
import * as queries from './queries.ts';

const recoveryLivesMs = 3600 * 1000;

/** Whoever can run commands on the server; there is no person behind it. */
const server = { personId: null, displayName: 'the server', roles: [], address: null };

/**
 * A link with which a person who lost the password or the second factor chooses a new password, within the
 * hour; the second factor goes with it. An account that was switched off is switched on; where no owner is left,
 * the person becomes one.
 *
 * @example
 * const { url, madeOwner } = await recover(db, { name: 'lena' });
 */
export async function recover(
  db: Db,
  { name }: { name: string },
): Promise<{ url: string; displayName: string; madeOwner: boolean }> {
  return inTransaction(db, async (tx) => {
    const { id } = orNotFound(await queries.readPersonByName(tx, name), `person called ${name}`);
    await queries.lockPersonAndOwners(tx.execute, id);
    const before = orNotFound(await queries.readPerson(tx, id), `person called ${name}`);
    const madeOwner = !(await queries.hasOwner(tx.execute)) && !before.roles.includes('owner');
    const roles = [...before.roles, ...(madeOwner ? ['owner'] : [])] as Parameters<
      typeof queries.changePerson
    >[2]['roles'] & {};
    await queries.changePerson(tx, id, { active: true, roles });
    const changes = [
      ...(before.active ? [] : [{ field: 'active', old: false, new: true }]),
      ...(madeOwner ? [{ field: 'roles', old: before.roles, new: roles }] : []),
    ];
    await writeAudit(tx.execute, server, {
      kind: 'person',
      id,
      number: before.name,
      action: 'issued a recovery link for',
      changes,
    });
    const { url } = await makeLink(tx, {
      kind: 'recovery',
      personId: id,
      createdById: null,
      livesMs: recoveryLivesMs,
    });
    return { url, displayName: before.displayName, madeOwner };
  });
}
