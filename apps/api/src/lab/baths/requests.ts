import type { AnalysisRequest, requestAnalysis } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { openBath } from './open-bath.ts';
import * as setupQueries from './setup-queries.ts';

/** Asks for an analysis of a bath; until it is made, from its due time on, the bath counts as overdue. */
export async function askAnalysis(
  db: Db,
  { actor, bathId, input }: { actor: Actor; bathId: number; input: z.output<typeof requestAnalysis.body> },
): Promise<AnalysisRequest> {
  return inTransaction(db, async (tx) => {
    const bath = await openBath(tx.execute, bathId);
    const setup = (await setupQueries.readSetupsOf(tx.execute, [bathId])).get(bathId);
    input.components.forEach((key, index) => {
      if (!setup?.components.some((component) => component.key === key))
        throw fieldError(`components.${index}`, `${key} is not watched in ${bath.number}`);
    });
    const id = await setupQueries.addRequest(tx.execute, {
      bathId,
      why: 'asked',
      components: input.components,
      dueAt: new Date(input.dueAt),
      additionId: null,
      note: input.note,
      askedById: actor.personId,
    });
    await writeAudit(tx.execute, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: 'asked for an analysis',
      reason: input.note || null,
    });
    return orNotFound(await setupQueries.readRequest(tx.execute, id), `request ${id}`).request;
  });
}

/** Closes a request without an analysis. */
export async function closeRequest(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<AnalysisRequest> {
  return inTransaction(db, async (tx) => {
    const { bathId } = orNotFound(await setupQueries.readRequest(tx.execute, id), `request ${id}`).request;
    const bath = await openBath(tx.execute, bathId);
    const { request, closed } = orNotFound(await setupQueries.readRequest(tx.execute, id), `request ${id}`);
    if (closed) throw new DomainError('immutable', 'That request was closed already.');
    await setupQueries.closeRequest(tx.execute, { id, personId: actor.personId, reason });
    await writeAudit(tx.execute, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: 'closed a request for an analysis without one',
      reason,
    });
    return request;
  });
}
