import type { Shop } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { checkVersion } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './queries.ts';

/** Changes the facts of the shop. Documents that were issued keep what stood on them. */
export async function changeShop(
  db: Db,
  of: { actor: Actor; version: number; input: Omit<Shop, 'version'> },
): Promise<Shop> {
  const { actor, version, input } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockShop(tx.run);
    const before = await queries.readShop(tx);
    checkVersion({ stored: before, version, what: 'The setup of the shop' });
    await queries.changeShop(tx, input);
    const after = await queries.readShop(tx);
    await record(tx.run, actor, {
      kind: 'shop',
      id: 1,
      action: 'changed',
      changes: changesBetween(before, after),
    });
    return after;
  });
}
