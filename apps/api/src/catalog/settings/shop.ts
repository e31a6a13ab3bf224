import type { Shop } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';

/** Changes the facts of the shop. Documents that were issued keep what stood on them. */
export async function changeShop(
  db: Db,
  { actor, version, input }: { actor: Actor; version: number; input: Omit<Shop, 'version'> },
): Promise<Shop> {
  return inTransaction(db, async (tx) => {
    await queries.lockShop(tx.execute);
    const before = await queries.readShop(tx);
    assertVersion({ stored: before, version, what: 'The setup of the shop' });
    if (input.currency !== before.currency) await refuseNewCurrency(tx, before.currency);
    await queries.changeShop(tx, input);
    const after = await queries.readShop(tx);
    await writeAudit(tx.execute, actor, {
      kind: 'shop',
      id: 1,
      action: 'changed',
      changes: changesBetween(before, after),
    });
    return after;
  });
}

/** A figure is not turned into another currency by another name: the first record with a price settles the shop's. */
async function refuseNewCurrency(tx: Tx, currency: string): Promise<void> {
  const priced = await queries.readPricedKinds(tx.execute);
  if (priced.length > 0)
    throw fieldError(
      'currency',
      `stays ${currency}: ${priced.join(', ')} are in ${currency}, and their figures would change their meaning`,
    );
}
