import type { keepForm as contract, KeptForm } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../audit/index.ts';
import * as queries from './kept-form-queries.ts';

/** More half-written forms than anybody finishes. */
const MAX_KEPT = 50;

/** Keeps what is typed in a form, in place of what was kept of it before. Nothing in it is checked until it is saved. */
export function keepForm(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof contract.body> },
): Promise<KeptForm> {
  const { personId } = actor;
  return inTransaction(db, async (tx) => {
    const kept = await queries.listKept(tx.execute, personId);
    if (kept.length >= MAX_KEPT && !kept.some(({ path }) => path === input.path))
      throw new DomainError(
        'conflict',
        `You have ${MAX_KEPT} half-written forms, the most there may be: finish or discard some first.`,
      );
    const [row] = await queries.writeKept(tx.execute, personId, input);
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id: personId,
      action: `kept “${input.title}” half-written`,
    });
    return orNotFound(row, 'half-written form');
  });
}

export async function discardKept(db: Db, { actor, id }: { actor: Actor; id: number }): Promise<void> {
  const { personId } = actor;
  await inTransaction(db, async (tx) => {
    const [row] = await queries.removeKept(tx.execute, { personId, id });
    const { title } = orNotFound(row, `half-written form ${id} of yours`);
    await writeAudit(tx.execute, actor, {
      kind: 'person',
      id: personId,
      action: `removed the half-written “${title}”`,
    });
  });
}
