import type { AnalysisRequest, askForAnalysis } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { openBath } from './open-bath.ts';
import * as setupQueries from './setup-queries.ts';

/** Asks for an analysis of a bath; until it is made, from its due time on, the bath counts as overdue. */
export async function askAnalysis(
  db: Db,
  of: { actor: Actor; bathId: number; input: z.output<typeof askForAnalysis.body> },
): Promise<AnalysisRequest> {
  const { actor, bathId, input } = of;
  return inTransaction(db, async (tx) => {
    const bath = await openBath(tx.run, bathId);
    const setup = (await setupQueries.readSetupsOf(tx.run, [bathId])).get(bathId);
    input.components.forEach((key, at) => {
      if (!setup?.components.some((component) => component.key === key))
        throw invalid(`components.${at}`, `${key} is not watched in ${bath.number}`);
    });
    const id = await setupQueries.addRequest(tx.run, {
      bathId,
      why: 'asked',
      components: input.components,
      dueAt: new Date(input.dueAt),
      additionId: null,
      note: input.note,
      askedById: actor.personId,
    });
    await record(tx.run, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: 'asked for an analysis',
      reason: input.note || null,
    });
    return found(await setupQueries.readRequest(tx.run, id), `request ${id}`).request;
  });
}

/** Closes a request without an analysis. */
export async function closeRequest(
  db: Db,
  of: { actor: Actor; id: number; reason: string },
): Promise<AnalysisRequest> {
  const { actor, id, reason } = of;
  return inTransaction(db, async (tx) => {
    const { bathId } = found(await setupQueries.readRequest(tx.run, id), `request ${id}`).request;
    const bath = await openBath(tx.run, bathId);
    const { request, closed } = found(await setupQueries.readRequest(tx.run, id), `request ${id}`);
    if (closed) throw new Refusal('frozen', 'That request was closed already.');
    await setupQueries.closeRequest(tx.run, { id, personId: actor.personId, reason });
    await record(tx.run, actor, {
      kind: 'bath',
      id: bathId,
      number: bath.number,
      action: 'closed a request for an analysis without one',
      reason,
    });
    return request;
  });
}
