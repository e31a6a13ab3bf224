import type { createFirstAdmin } from '@huelot/contracts';
import type { z } from 'zod';
import { inTransaction, type Db } from '../../db/client.ts';
import { addStartingLibrary } from '../materials/index.ts';
import { addFirstAdmin, type From, type Opened } from '../people/index.ts';

/** Opens a new shop: its first owner, once, and the materials to begin with. Both are there, or neither. */
export async function openShop(
  db: Db,
  of: { input: z.output<typeof createFirstAdmin.body>; from: From },
): Promise<Opened> {
  return inTransaction(db, async (tx) => {
    const opened = await addFirstAdmin(tx, of);
    const { id: personId, displayName, roles } = opened.person;
    await addStartingLibrary(tx.run, { personId, displayName, roles, address: of.from.address });
    return opened;
  });
}
