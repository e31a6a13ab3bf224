import type { ColourRule } from '@huelot/contracts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

/** Changes the guard band. What was read keeps the band it was judged by. */
export const changeRule = (
  db: Db,
  { actor, version, input }: { actor: Actor; version: number; input: { guardFactor: number } },
): Promise<ColourRule> =>
  inTransaction(db, async (tx) => {
    await queries.lockShop(tx.execute);
    const before = await queries.readRule(tx);
    assertVersion({ stored: before, version, what: 'The setup of the shop' });
    await queries.setGuardFactor(tx, input.guardFactor);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'shop', id: 1, action: 'changed the guard band of colour readings' },
      changes: changesBetween({ guardFactor: before.guardFactor }, input),
    });
    return queries.readRule(tx);
  });
