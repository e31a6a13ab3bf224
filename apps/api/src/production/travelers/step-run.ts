import type { StepDraft, Traveler } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as floor from './floor-queries.ts';
import * as queries from './queries.ts';
import { checkTurn } from './sign-checks.ts';
import * as signing from './sign-queries.ts';

interface Stamping {
  actor: Actor;
  stepId: number;
  /** How long ago it was, s. */
  agoS: number;
}

/** Stamps that the load went in: only where the step could be signed, so that nothing is dipped out of turn. */
export const takeIn = (db: Db, options: Stamping): Promise<Traveler> =>
  stamp(db, options, async (execute, step) => {
    checkTurn(step);
    if (step.inAt !== null)
      throw new DomainError(
        'conflict',
        `The load of step ${step.position} is in already; reset its clock first.`,
      );
    const { agoS, actor, stepId } = options;
    await floor.addRun(execute, { stepId, agoS, personId: actor.personId });
    return 'stamped In at';
  });

/** Stamps that the load came out. A hold does not keep it in the tank. */
export const takeOut = (db: Db, options: Stamping): Promise<Traveler> =>
  stamp(db, options, async (execute, step) => {
    checkTurn(step, { evenHeld: true });
    const current = await floor.readRun(execute, options.stepId);
    if (current === null)
      throw new DomainError('conflict', `The load of step ${step.position} was not stamped in.`);
    if (current.outAt !== null)
      throw new DomainError('conflict', `The load of step ${step.position} is out already.`);
    await floor.endRun(execute, { id: current.id, agoS: options.agoS, personId: options.actor.personId });
    return 'stamped Out at';
  });

/** Sets the clock of a step back; the stamps stay as they were given. */
export const setBack = (db: Db, options: { actor: Actor; stepId: number }): Promise<Traveler> =>
  stamp(db, { ...options, agoS: 0 }, async (execute, step) => {
    checkTurn(step, { evenHeld: true });
    const current = orNotFound(
      await floor.readRun(execute, options.stepId),
      `clock of step ${step.position}`,
    );
    await floor.setRunBack(execute, { id: current.id, personId: options.actor.personId });
    return 'reset the clock of';
  });

function stamp(
  db: Db,
  { actor, stepId }: Stamping,
  work: (execute: SqlExecutor, step: signing.StepRow) => Promise<string>,
): Promise<Traveler> {
  return withSqlTransaction(db, async (execute) => {
    const step = orNotFound(await signing.lockStep(execute, stepId), `step ${stepId}`);
    const verb = await work(execute, step);
    await writeAudit(execute, actor, {
      kind: 'lot',
      id: step.lotId,
      number: step.lotNumber,
      action: `${verb} step ${step.position}, ${step.title}`,
    });
    return orNotFound(await queries.readTraveler(execute, step.travelerId), `traveler ${step.travelerId}`);
  });
}

/**
 * Keeps what somebody typed at a step, so that a reload or a second tablet loses nothing. Nothing of it is in the
 * record before it is signed, so it has no audit row.
 */
export async function keepDraft(
  db: Db,
  { actor, stepId, draft }: { actor: Actor; stepId: number; draft: StepDraft },
): Promise<void> {
  await floor.keepDraft(db.execute, { stepId, personId: actor.personId, draft });
}
