import type {
  addAssessmentLot,
  assignAssessment,
  holdAssessedLots,
  ImpactAssessment,
  judgeLots,
  openAssessedNonconformance,
} from '@huelot/contracts';
import type { z } from 'zod';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import { placeLotHold } from '../../production/lots/index.ts';
import { openNonconformance } from '../nonconformances/index.ts';
import { bringLots, checkAssignment, lockOpen } from './open.ts';
import * as queries from './queries.ts';
import { view } from './view.ts';
import { addEntries, changeAssessment } from './write-queries.ts';

interface About {
  actor: Actor;
  id: number;
}
type Body<E extends { body: z.ZodType }> = z.output<E['body']>;

/** The lots that are named, each of which must be under this assessment. */
async function lotsOf(
  tx: Tx,
  { id, lotIds, path }: { id: number; lotIds: readonly number[]; path: string },
): Promise<queries.LotRow[]> {
  const lots = await queries.readLots(tx.execute, id);
  return [...new Set(lotIds)].map((lotId, index) => {
    const lot = lots.find((one) => one.lotId === lotId);
    if (lot === undefined)
      throw fieldError(path === 'lotIds' ? `lotIds.${index}` : path, 'is no lot of this assessment');
    return lot;
  });
}
const namesOf = (lots: readonly queries.LotRow[]) => lots.map(({ facts }) => facts.number).join(', ');

/** Judges lots affected or not, each by the same words. What was judged before stands beside it. */
export function judge(
  db: Db,
  { actor, id, input }: About & { input: Body<typeof judgeLots> },
): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { number } = await lockOpen(tx, id);
    const lots = await lotsOf(tx, { id, lotIds: input.lotIds, path: 'lotIds' });
    const { affected, text } = input;
    await addEntries(
      tx,
      lots.map(({ lotId }) => ({
        ...{ assessmentId: id, kind: 'judgement', lotId, affected, text, byId: actor.personId },
      })),
    );
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, reason: text },
      action: `judged ${namesOf(lots)} ${affected ? 'affected' : 'not affected'}`,
    });
    return view(tx, id);
  });
}

/** Puts lots on hold through the door of every hold: all of them, or none. */
export function hold(
  db: Db,
  { actor, id, input }: About & { input: Body<typeof holdAssessedLots> },
): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { number } = await lockOpen(tx, id);
    const lots = await lotsOf(tx, { id, lotIds: input.lotIds, path: 'lotIds' });
    const reason = `${number}: ${input.reason}`;
    for (const { lotId } of lots.toSorted((one, other) => one.lotId - other.lotId))
      await placeLotHold(tx, { actor, id: lotId, input: { reason } });
    await addEntries(
      tx,
      lots.map(({ lotId }) => ({
        ...{ assessmentId: id, kind: 'hold', lotId, text: input.reason, byId: actor.personId },
      })),
    );
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, reason: input.reason },
      action: `put ${namesOf(lots)} on hold`,
    });
    return view(tx, id);
  });
}

/** Opens a nonconformance of a lot under assessment, and keeps that it came from here. */
export function openFound(
  db: Db,
  { actor, id, input }: About & { input: Body<typeof openAssessedNonconformance> },
): Promise<{ id: number; number: string }> {
  return inTransaction(db, async (tx) => {
    const { number } = await lockOpen(tx, id);
    const [lot] = await lotsOf(tx, { id, lotIds: [input.lotId], path: 'lotId' });
    const opened = await openNonconformance(tx, { actor, lotId: input.lotId, input: input.found });
    await addEntries(tx, [
      {
        ...{ assessmentId: id, kind: 'nonconformance', lotId: input.lotId, byId: actor.personId },
        ...{ nonconformanceId: opened.id, text: input.found.description },
      },
    ]);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, reason: input.found.description },
      action: `opened nonconformance ${opened.number} of ${lot?.facts.number ?? ''}`,
    });
    return { id: opened.id, number: opened.number };
  });
}

/** Brings a lot under assessment that the look-back did not find. */
export function addLot(
  db: Db,
  { actor, id, input }: About & { input: Body<typeof addAssessmentLot> },
): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { number } = await lockOpen(tx, id);
    const [lot] = await queries.readLotFacts(tx.execute, { number: input.lotNumber });
    if (lot === undefined) throw fieldError('lotNumber', `there is no lot ${input.lotNumber}`);
    const lots = await queries.readLots(tx.execute, id);
    if (lots.some(({ lotId }) => lotId === lot.id))
      throw new DomainError('already-exists', `${lot.number} is under this assessment already.`, {
        issues: [{ path: 'lotNumber', message: 'is under this assessment already' }],
      });
    await bringLots(tx, { actor, assessmentId: id, ties: new Map([[lot.id, []]]), why: input.why });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, reason: input.why },
      action: `added ${lot.number}`,
    });
    return view(tx, id);
  });
}

/** Gives an open assessment to somebody, or another day. */
export function assign(
  db: Db,
  { actor, id, input }: About & { input: Body<typeof assignAssessment> },
): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { number, owner, dueOn } = await lockOpen(tx, id);
    await checkAssignment(tx.execute, input);
    await changeAssessment(tx, id, { ownerId: input.ownerId, dueOn: new Date(input.dueOn) });
    const after = await view(tx, id);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, action: 'assigned', reason: input.reason },
      changes: [
        { field: 'owner', old: owner.name, new: after.owner.name },
        { field: 'due', old: dueOn, new: after.dueOn },
      ].filter((change) => change.old !== change.new),
    });
    return after;
  });
}

/** Closes an assessment that nothing is missing of. From then on nothing is added to it. */
export function close(db: Db, { actor, id, text }: About & { text: string }): Promise<ImpactAssessment> {
  return inTransaction(db, async (tx) => {
    const { number } = await lockOpen(tx, id);
    const { missing } = await view(tx, id);
    if (missing.length > 0)
      throw new DomainError('conflict', `${number} cannot be closed without ${missing.join('; ')}.`);
    await addEntries(tx, [{ assessmentId: id, kind: 'closed', text, byId: actor.personId }]);
    await changeAssessment(tx, id, { state: 'closed' });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'impact-assessment', id, number, action: 'closed', reason: text },
      changes: signature(actor, 'closed'),
    });
    return view(tx, id);
  });
}
