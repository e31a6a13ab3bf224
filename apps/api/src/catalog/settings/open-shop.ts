import type { createFirstAdmin } from '@huelot/contracts';
import type { z } from 'zod';
import { inTransaction, type Db } from '../../db/client.ts';
import { addStartingLibrary } from '../materials/index.ts';
import {
  addFirstAdmin,
  beginAttempt,
  networkOf,
  refuseCommonPassword,
  wasRight,
  type From,
  type Opened,
} from '../../core/people/index.ts';

/** Opens a new shop: its first owner, and the materials to begin with. Both are there, or neither. */
export async function openShop(
  db: Db,
  options: { input: z.output<typeof createFirstAdmin.body>; from: From },
): Promise<Opened> {
  const { name, displayName: called, shopName } = options.input;
  await refuseCommonPassword(options.input.password, [name, called, shopName]);
  const counted = await beginAttempt(db, {
    secret: 'code',
    account: null,
    source: networkOf(options.from.address),
    trusted: null,
  });
  const opened = await inTransaction(db, async (tx) => {
    const first = await addFirstAdmin(tx, options);
    const { id: personId, displayName, roles } = first.person;
    await addStartingLibrary(tx.execute, { personId, displayName, roles, address: options.from.address });
    return first;
  });
  await wasRight(db, counted);
  return opened;
}
