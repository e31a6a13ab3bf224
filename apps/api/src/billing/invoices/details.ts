import type { BillingDetails, updateBillingDetails } from '@huelot/contracts';
import type { z } from 'zod';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion } from '../../kernel/refusal.ts';
import * as queries from './details-queries.ts';

/** Changes what invoices say of the shop from now on. */
export function changeDetails(
  db: Db,
  {
    actor,
    version,
    input,
  }: { actor: Actor; version: number; input: z.output<typeof updateBillingDetails.body> },
): Promise<BillingDetails> {
  return inTransaction(db, async (tx) => {
    await queries.lockShop(tx.execute);
    const before = await queries.readDetails(tx);
    assertVersion({ stored: before, version, what: 'The setup of the shop' });
    await queries.changeDetails(tx, input);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'shop', id: 1, action: 'changed what invoices say of the shop' },
      changes: changesBetween(before, input),
    });
    return queries.readDetails(tx);
  });
}
