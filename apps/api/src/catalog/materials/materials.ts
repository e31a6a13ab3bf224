import type { Material, MaterialFacts } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit, type Doer } from '../../core/audit/index.ts';
import * as queries from './queries.ts';
import { startingLibrary } from './starting-library.ts';

export const toMaterial = ({ createdAt, archivedAt, ...row }: queries.MaterialRow): Material => ({
  ...row,
  archivedAt: archivedAt?.toISOString() ?? null,
  createdAt: createdAt.toISOString(),
});

const called = ({ name, condition }: { name: string; condition: string }) =>
  condition === '' ? name : `${name}, ${condition}`;

/** One material, or a refusal that there is none. */
export const getMaterial = async (db: Db, id: number): Promise<Material> =>
  toMaterial(orNotFound(await queries.readMaterial(db.execute, id), `material ${id}`));

export async function addMaterial(
  db: Db | Tx,
  { facts, actor }: { actor: Actor; facts: MaterialFacts },
): Promise<Material> {
  return inTransaction(db, async (tx) => {
    const { id } = await queries.addMaterial(tx, facts);
    const material = toMaterial(orNotFound(await queries.readMaterial(tx.execute, id), `material ${id}`));
    await writeAudit(tx.execute, actor, { kind: 'material', id, number: called(material), action: 'added' });
    return material;
  });
}

/** Replaces what is known about a material. Parts keep the mass they were given. */
export async function changeMaterial(
  db: Db,
  { actor, id, version, facts }: { actor: Actor; id: number; version: number; facts: MaterialFacts },
): Promise<Material> {
  return inTransaction(db, async (tx) => {
    const before = toMaterial(orNotFound(await queries.lockMaterial(tx.execute, id), `material ${id}`));
    assertVersion({ stored: before, version, what: 'This material' });
    await queries.changeMaterial(tx, id, facts);
    const after = toMaterial(orNotFound(await queries.readMaterial(tx.execute, id), `material ${id}`));
    const changes = changesBetween(before, after);
    await writeAudit(tx.execute, actor, {
      kind: 'material',
      id,
      number: called(after),
      action: 'changed',
      changes,
    });
    return after;
  });
}

/** Takes a material off the lists or puts it back. Nothing happens when it is there already. */
export async function setArchived(
  db: Db,
  { actor, id, archived }: { actor: Actor; id: number; archived: boolean },
): Promise<Material> {
  return inTransaction(db, async (tx) => {
    const before = toMaterial(orNotFound(await queries.lockMaterial(tx.execute, id), `material ${id}`));
    if ((before.archivedAt !== null) === archived) return before;
    await queries.changeMaterial(tx, id, { archivedAt: archived ? new Date() : null });
    const action = archived ? 'archived' : 'restored from the archive';
    await writeAudit(tx.execute, actor, { kind: 'material', id, number: called(before), action });
    return toMaterial(orNotFound(await queries.readMaterial(tx.execute, id), `material ${id}`));
  });
}

/**
 * Adds the materials of the starting library that are not there yet, and says how many. A material that the shop
 * changed or archived is left as it is.
 *
 * @example
 * await inTransaction(db, (tx) => addStartingLibrary(tx.run, actor)); // a new shop
 */
export async function addStartingLibrary(execute: SqlExecutor, actor: Doer): Promise<number> {
  const added = await queries.addMissing(execute, startingLibrary);
  for (const { id, name } of added) {
    const action = 'added from the starting library';
    await writeAudit(execute, actor, { kind: 'material', id, number: name, action });
  }
  return added.length;
}
