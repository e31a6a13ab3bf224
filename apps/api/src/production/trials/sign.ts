import { awayFromPlan, may, type signTrialRun, type TrialPiece, type TrialRun } from '@huelot/contracts';
import type { z } from 'zod';
import { addTrials } from '../../colour/coupons/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { personOfPin } from '../../core/people/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { assertOpen } from './floor.ts';
import { clockOf, piecesOf } from './pieces.ts';
import { aboutRun } from './plan.ts';
import * as queries from './queries.ts';
import { readTrialRun } from './view.ts';

type Input = z.output<typeof signTrialRun.body>;

/**
 * Signs a run for good and cuts it into trials: one for each coupon, or for each band with the time it was in. Away from the
 * plan it takes a reason. The trials go into the draft of the series; where there is none they wait with the run.
 */
export async function signTrial(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: Input },
): Promise<TrialRun> {
  const signer =
    input.signer === null ? actor : await personOfPin(db, { ...input.signer, actor, path: 'signer.pin' });
  if (!may(signer.roles, 'steps.sign'))
    throw new DomainError('not-allowed', `${signer.displayName} may not sign trials.`);
  return inTransaction(db, async (tx) => {
    const run = await assertOpen(tx.execute, id);
    const clock = clockOf(await queries.readEvents(tx.execute, id));
    if (clock.in === null || clock.out === null)
      throw new DomainError('conflict', `${run.number} is not out yet: stamp In and Out first.`);
    if (clock.readings.length === 0)
      throw new DomainError(
        'conflict',
        `Nothing was read at ${run.number}: write down what the tank showed.`,
      );
    if (run.kind === 'strip' && input.areaMm2 !== null)
      throw fieldError('areaMm2', 'must be empty: the area of a strip changes with every lift');
    const pieces = piecesOf({ ...run, areaMm2: input.areaMm2 }, clock);
    const away = awayFromPlan(run, pieces);
    if (away.length > 0 && input.reason.trim() === '')
      throw fieldError('reason', `is needed: ${away.join(' and ')} was not as planned`);
    await queries.addPieces(tx, id, pieces);
    await queries.signRun(tx.execute, { ...input, id, personId: signer.personId });
    const revision = await land(tx, { run, pieces, person: signer });
    await writeAudit(tx.execute, signer, {
      ...aboutRun(run),
      action: `signed ${pieces.length} trials${revision === null ? `; ${run.seriesCode} has no draft that takes them` : ` into ${run.seriesCode} rev ${revision}`}`,
      ...(signer.personId === actor.personId
        ? {}
        : { changes: [{ field: 'station', old: null, new: actor.displayName }] }),
      reason: input.reason.trim() || null,
    });
    return readTrialRun(tx.execute, id);
  });
}

/** Puts the trials of a signed run into a draft that was started since. */
export function landTrials(db: Db, { actor, id }: { actor: Actor; id: number }): Promise<TrialRun> {
  return inTransaction(db, async (tx) => {
    await queries.lockRun(tx.execute, id);
    const run = orNotFound(await queries.readRun(tx.execute, id), `trial run ${id}`);
    if (run.state !== 'signed')
      throw new DomainError(
        'conflict',
        `${run.number} is not signed: its trials go into the draft when it is.`,
      );
    if (run.landedIn !== null)
      throw new DomainError(
        'conflict',
        `${run.number} is in ${run.seriesCode} revision ${run.landedIn.revision} already.`,
      );
    const revision = await land(tx, {
      ...{ run, person: actor },
      pieces: await queries.readPieces(tx.execute, id),
    });
    if (revision === null)
      throw new DomainError(
        'conflict',
        `${run.seriesCode} has no draft for this material and bath: start one, then add the trials.`,
      );
    await writeAudit(tx.execute, actor, {
      ...aboutRun(run),
      action: `put its trials into ${run.seriesCode} rev ${revision}`,
    });
    return readTrialRun(tx.execute, id);
  });
}

async function land(
  tx: Tx,
  {
    run,
    pieces,
    person,
  }: {
    run: queries.RunRow;
    pieces: readonly TrialPiece[];
    person: Pick<Actor, 'personId' | 'displayName' | 'roles' | 'address'>;
  },
): Promise<number | null> {
  const { seriesCode: code, contents, component, unit, referenceTemperatureC, material } = run;
  return addTrials(tx, {
    actor: person,
    series: { code, contents, component, unit, referenceTemperatureC, materialId: material.id },
    run: {
      id: run.id,
      number: run.number,
      signedBy: run.signedBy ?? person.displayName,
    },
    pieces,
  });
}
