import type { ColourStandard } from '@huelot/contracts';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion, DomainError } from '../../kernel/refusal.ts';
import { nameOf, readLocked } from './drafts.ts';
import * as queries from './queries.ts';
import { readStandardRevision } from './views.ts';

/**
 * Confirms what was taken over from the free text of parts. Nobody here wrote it, so whoever may approve a standard is its second
 * person. What was judged or issued by it before goes on saying that nobody had.
 */
export async function confirmStandard(
  db: Db,
  { actor, id, version, grounds }: { actor: Actor; id: number; version: number; grounds: string },
): Promise<ColourStandard> {
  return inTransaction(db, async (tx) => {
    const standard = await readLocked(tx, id);
    const name = nameOf(standard);
    if (standard.status !== 'approved' || !standard.unconfirmed)
      throw new DomainError(
        'conflict',
        `${name} does not wait to be confirmed: only what was taken over, is in force and nobody has confirmed does.`,
      );
    assertVersion({ stored: standard, version, what: name });
    await queries.addConfirmation(tx, { revisionId: id, grounds, personId: actor.personId });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'colour-standard', id: standard.standardId, number: name, action: 'confirmed' },
      ...{ reason: grounds, changes: signature(actor, 'confirmed') },
    });
    return readStandardRevision(tx.execute, id);
  });
}
