import type { ParkedSignOff, parkSignOff, settleParkedSignOff, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, sql, type Db } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import * as parked from './parked-queries.ts';
import * as queries from './queries.ts';
import { checkPerson, writeSignOff, type CheckColour } from './sign.ts';
import { timeOf } from './sign-checks.ts';
import * as signing from './sign-queries.ts';

/**
 * Takes a sign-off from a tablet that had no network. What the rules refuse by now was done all the same: its
 * readings, time and counts are parked for quality, in the same transaction that found out.
 */
export async function signOrPark(
  db: Db,
  options: {
    actor: Actor;
    stepId: number;
    input: z.output<typeof parkSignOff.body>;
    sentAt: Date | null;
    checkColour: CheckColour;
  },
): Promise<{ traveler: Traveler; parked: ParkedSignOff | null }> {
  const { actor, stepId, input, sentAt, checkColour } = options;
  checkPerson(actor, input);
  return withSqlTransaction(db, async (execute) => {
    const step = orNotFound(await signing.lockStep(execute, stepId), `step ${stepId}`);
    const time = timeOf({ doneAt: input.doneAt, sentAt, now: step.now });
    let parkedId: number | null = null;
    await execute(sql`savepoint trying_to_sign`);
    try {
      await writeSignOff(execute, { actor, signer: actor, step, input, time, checkColour, settled: null });
    } catch (error) {
      if (!(error instanceof DomainError)) throw error;
      await execute(sql`rollback to savepoint trying_to_sign`);
      parkedId = await parked.addParked(execute, {
        stepId,
        lotId: step.lotId,
        personId: actor.personId,
        input,
        ...time,
        code: error.code,
        refusal: error.message,
      });
      await writeAudit(execute, actor, {
        kind: 'lot',
        id: step.lotId,
        number: step.lotNumber,
        action: `handed step ${step.position}, ${step.title}, to quality: it was signed offline and refused`,
        reason: error.message,
      });
    }
    return {
      traveler: orNotFound(
        await queries.readCurrentTraveler(execute, step.lotId),
        `traveler of lot ${step.lotId}`,
      ),
      parked: parkedId === null ? null : await parked.readParked(execute, parkedId),
    };
  });
}

/**
 * Quality decides about a parked sign-off: it counts, as done by that person at that time before the hold, or it is
 * set aside. Either way it stays on record with the reason. A step of an older revision counts for the same step of
 * the current one.
 */
export function settle(
  db: Db,
  options: { actor: Actor; id: number; input: z.output<typeof settleParkedSignOff.body> },
): Promise<ParkedSignOff> {
  const { actor, id, input } = options;
  return withSqlTransaction(db, async (execute) => {
    const row = orNotFound(await parked.lockParked(execute, id), `parked sign-off ${id}`);
    if (row.decision !== null)
      throw new DomainError('conflict', `Step ${row.position} of ${row.lotNumber} was decided already.`);
    let signOffId: number | null = null;
    if (input.decision === 'accepted') {
      const stepId = row.currentStepId ?? row.stepId;
      const step = orNotFound(await signing.lockStep(execute, stepId), `step ${stepId}`);
      const { body, doneAt, clockDifferenceS } = row;
      const orReason = (text: string) => (text.trim() === '' ? input.reason : text);
      signOffId = await writeSignOff(execute, {
        actor,
        signer: { personId: row.personId, displayName: row.person, roles: [], address: actor.address },
        step,
        input: {
          ...body,
          reason: orReason(body.reason),
          countReason: orReason(body.countReason),
          shortTimeReason: orReason(body.shortTimeReason),
        },
        time: { doneAt, clockDifferenceS },
        settled: { personId: actor.personId, displayName: actor.displayName, reason: input.reason },
        checkColour: null,
      });
    }
    await parked.decideParked(execute, { ...input, id, decidedById: actor.personId, signOffId });
    await writeAudit(execute, actor, {
      kind: 'lot',
      id: row.lotId,
      number: row.lotNumber,
      action:
        input.decision === 'accepted'
          ? `accepted step ${row.position}, ${row.title}, as done by ${row.person} before it was refused`
          : `set aside what ${row.person} signed at step ${row.position}, ${row.title}`,
      reason: input.reason,
    });
    return orNotFound(await parked.readParked(execute, id), `parked sign-off ${id}`);
  });
}
