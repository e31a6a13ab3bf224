import type { LotEvidence, markFirstArticle } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit, signature } from '../../core/audit/index.ts';
import { citeLot } from '../../colour/evidence/index.ts';
import { lockLot, readLotEvidence } from '../../production/lots/index.ts';
import { instrumentOf } from '../colour-readings/index.ts';
import { readLotAlloy } from './queries.ts';

/**
 * Makes a lot that passed the final check evidence of the revision it was run on, for its alloy in its condition: from then
 * on the gate asks no more for it.
 */
export function makeFirstArticle(
  db: Db | Tx,
  { actor, id, input }: { actor: Actor; id: number; input: z.output<typeof markFirstArticle.body> },
): Promise<LotEvidence> {
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await lockLot(tx.execute, id), `lot ${id}`);
    if (lot.held) throw new DomainError('on-hold', `Lot ${lot.number} is on hold: it proves nothing.`);
    if (!['passed', 'shipped'].includes(lot.status))
      throw new DomainError(
        'conflict',
        `Lot ${lot.number} is ${lot.status}: it proves something once it passed the final check.`,
      );
    if (lot.acceptedCount === 0)
      throw new DomainError('conflict', `No piece of lot ${lot.number} was accepted: it proves nothing.`);
    const alloy = orNotFound(await readLotAlloy(tx.execute, id), `lot ${id}`);
    await citeLot(tx, {
      actor,
      lot: {
        ...{ lotId: id, lotNumber: lot.number, recipeRevisionId: lot.recipeRevisionId },
        ...{ materialId: alloy.materialId, material: alloy.material, pieces: lot.acceptedCount },
      },
      colour: { ...input, instrument: await instrumentOf(tx.execute, input, 'instrumentId') },
    });
    await writeAudit(tx.execute, actor, {
      kind: 'lot',
      id,
      number: lot.number,
      action:
        input.kind === 'first-article'
          ? 'made a first article of its recipe'
          : 'made a trial lot of its recipe',
      changes: signature(actor, 'judged'),
      reason: input.note || null,
    });
    return readLotEvidence(tx.execute, id);
  });
}
