import type { Material, MaterialFacts } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Run } from '../../db/client.ts';
import { checkVersion, found } from '../../refusal.ts';
import { changesBetween, record, type Doer } from '../audit/index.ts';
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
  toMaterial(found(await queries.readMaterial(db.run, id), `material ${id}`));

export async function addMaterial(db: Db, of: { actor: Actor; facts: MaterialFacts }): Promise<Material> {
  return inTransaction(db, async (tx) => {
    const { id } = await queries.addMaterial(tx, of.facts);
    const material = toMaterial(found(await queries.readMaterial(tx.run, id), `material ${id}`));
    await record(tx.run, of.actor, { kind: 'material', id, number: called(material), action: 'added' });
    return material;
  });
}

/** Replaces what is known about a material. Parts keep the mass they were given. */
export async function changeMaterial(
  db: Db,
  of: { actor: Actor; id: number; version: number; facts: MaterialFacts },
): Promise<Material> {
  const { actor, id, version, facts } = of;
  return inTransaction(db, async (tx) => {
    const before = toMaterial(found(await queries.lockMaterial(tx.run, id), `material ${id}`));
    checkVersion({ stored: before, version, what: 'This material' });
    await queries.changeMaterial(tx, id, facts);
    const after = toMaterial(found(await queries.readMaterial(tx.run, id), `material ${id}`));
    const changes = changesBetween(before, after);
    await record(tx.run, actor, { kind: 'material', id, number: called(after), action: 'changed', changes });
    return after;
  });
}

/** Takes a material off the lists or puts it back. Nothing happens when it is there already. */
export async function setArchived(
  db: Db,
  of: { actor: Actor; id: number; archived: boolean },
): Promise<Material> {
  const { actor, id, archived } = of;
  return inTransaction(db, async (tx) => {
    const before = toMaterial(found(await queries.lockMaterial(tx.run, id), `material ${id}`));
    if ((before.archivedAt !== null) === archived) return before;
    await queries.changeMaterial(tx, id, { archivedAt: archived ? new Date() : null });
    const action = archived ? 'archived' : 'took out of the archive';
    await record(tx.run, actor, { kind: 'material', id, number: called(before), action });
    return toMaterial(found(await queries.readMaterial(tx.run, id), `material ${id}`));
  });
}

/**
 * Adds the materials of the starting library that are not there yet, and says how many. A material that the shop
 * changed or archived is left as it is.
 *
 * @example
 * await inTransaction(db, (tx) => addStartingLibrary(tx.run, actor)); // a new shop
 */
export async function addStartingLibrary(run: Run, actor: Doer): Promise<number> {
  const added = await queries.addMissing(run, startingLibrary);
  for (const { id, name } of added) {
    const action = 'added from the starting library';
    await record(run, actor, { kind: 'material', id, number: name, action });
  }
  return added.length;
}
