import type { Shop } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { checkVersion } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './queries.ts';

/** What stands on the shop's documents, and its defaults. */
export async function readShop(db: Queryable): Promise<Shop> {
  const { id: _, ...shop } = await queries.readShop(db);
  return shop;
}

/** Changes the facts of the shop. Documents that were issued keep what stood on them. */
export async function changeShop(
  db: Db,
  of: { actor: Actor; version: number; input: Omit<Shop, 'version'> },
): Promise<Shop> {
  const { actor, version, input } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockShop(tx.run);
    const before = await readShop(tx);
    checkVersion({ stored: before, version, what: 'The setup of the shop' });
    await queries.changeShop(tx, input);
    const after = await readShop(tx);
    await record(tx.run, actor, {
      kind: 'shop',
      id: 1,
      action: 'changed the facts of the shop',
      changes: changesBetween(before, after),
    });
    return after;
  });
}
