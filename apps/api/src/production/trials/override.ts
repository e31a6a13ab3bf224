import { may, type TrialRun } from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { personOfPin } from '../../core/people/index.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { refuseUnfilled, stateWords } from '../travelers/index.ts';
import { assertOpen } from './floor.ts';
import * as queries from './queries.ts';
import { readTrialRun, standingOf } from './view.ts';

/** Takes somebody's word that a trial may run in a bath that is on hold, stopped or overdue: as it stands, and soon. */
export async function permitTrialRun(
  db: Db,
  {
    actor,
    id,
    input,
  }: { actor: Actor; id: number; input: { reason: string; by: { personId: number; pin: string } | null } },
): Promise<TrialRun> {
  const by = input.by === null ? actor : await personOfPin(db, { ...input.by, actor, path: 'by.pin' });
  if (!may(by.roles, 'lab.override'))
    throw new DomainError(
      'not-allowed',
      `${by.displayName} may not override a bath that is on hold, stopped or overdue.`,
      { issues: [{ path: 'by', message: 'must be somebody in planning, lab or quality' }] },
    );
  return inTransaction(db, async ({ execute }) => {
    const run = await assertOpen(execute, id);
    const { place, bath, status } = await standingOf(execute, run);
    refuseUnfilled(place);
    if (bath === null) throw new DomainError('conflict', 'No bath stands in the tank of this trial.');
    if (status === null || !status.needsOverride)
      throw new DomainError('conflict', 'The bath may be used as it is: no override is needed.');
    await queries.addEvent(execute, {
      ...{ runId: id, kind: 'override', personId: by.personId, reason: input.reason },
      bath: { id: bath.id, state: status.state },
    });
    await queries.bumpRun(execute, id);
    await writeAudit(execute, by, {
      ...{ kind: 'trial-run', id, number: run.number, reason: input.reason },
      action: `let it run in a bath that is ${stateWords(status.state)}`,
      ...(by.personId === actor.personId
        ? {}
        : { changes: [{ field: 'station', old: null, new: actor.displayName }] }),
    });
    return readTrialRun(execute, id);
  });
}
