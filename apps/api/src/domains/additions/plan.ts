import type { Addition, planBathAddition, PlannedStep } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Run, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { readAnalysis } from '../analyses/index.ts';
import { record } from '../audit/index.ts';
import { openBath, releaseWithdrawn, touchBath } from '../baths/index.ts';
import { readLot } from '../chemicals/index.ts';
import { computeAddition } from './compute.ts';
import * as queries from './queries.ts';
import { viewAddition, viewSheet } from './view.ts';
import * as writing from './write-queries.ts';

type Input = z.output<typeof planBathAddition.body>;

/**
 * Plans an addition to a bath as it stands. Whoever planned on an older state of the bath is refused and shown what
 * happened meanwhile: an addition is never planned twice.
 */
export async function planAddition(
  db: Db,
  of: { actor: Actor; bathId: number; version: number; input: Input },
): Promise<Addition> {
  const { actor, bathId, version, input } = of;
  return inTransaction(db, async (tx) => {
    const bath = await openBath(tx.run, bathId);
    if (bath.version !== version) throw await outdated(tx.run, bathId);
    const waiting = await queries.readPlanned(tx.run, bathId);
    if (waiting !== null)
      throw new Refusal(
        'conflict',
        `${waiting.number} of ${waiting.plannedBy} is planned and not done: do it or withdraw it first.`,
        { current: await viewSheet(tx.run, bathId) },
      );
    await checkInput(tx, { bathId, input });
    const answer = await answerTo(tx, input);
    const steps = input.steps ?? answer?.computed.steps;
    if (steps === undefined) throw invalid('steps', 'must be filled in where nothing is computed');
    if (input.steps === null && steps.every(({ kg }) => kg === 0))
      throw new Refusal('conflict', 'Nothing is to be added: the bath stands at its target and at its mark.');
    const edited = input.steps !== null && answer !== null && !sameSteps(input.steps, answer.computed.steps);
    if (edited && input.reason.trim() === '')
      throw invalid('reason', 'is needed: say why the computed steps were changed');
    await checkLots(tx, steps);
    const bathVersion = await touchBath(tx.run, bathId);
    const number = await nextNumber(tx.run, 'addition');
    const id = await writing.addPlan(tx.run, {
      number,
      bathId,
      kind: input.kind,
      fromAnalysisId: input.fromAnalysisId,
      request: input.request,
      computed: answer === null ? null : { ...answer.computed, cautions: answer.cautions },
      steps,
      edited,
      planReason: input.reason,
      bathVersion,
      plannedById: actor.personId,
    });
    await record(tx.run, actor, {
      kind: 'addition',
      id,
      number,
      action: `planned for ${bath.number}`,
      reason: input.reason || null,
    });
    return viewAddition(tx.run, id);
  });
}

/** Says what happened to a bath since somebody looked at it, with the sheet as it is now. */
export async function outdated(run: Run, bathId: number): Promise<Refusal> {
  const sheet = await viewSheet(run, bathId);
  const [last] = sheet.recent;
  const what =
    last === undefined
      ? 'Something was recorded'
      : `The last addition is ${last.number} (${last.words}), ${last.state} by ${last.doneBy ?? last.plannedBy}`;
  return new Refusal(
    'changed-meanwhile',
    `${sheet.bath.number} changed since you looked at it. ${what}. Compute anew from how the bath stands now; nothing was saved.`,
    { current: sheet },
  );
}

async function checkInput(tx: Tx, { bathId, input }: { bathId: number; input: Input }): Promise<void> {
  const { kind, request, fromAnalysisId, reason } = input;
  if (request !== null && (request.type === 'level') !== (kind === 'water'))
    throw invalid('request.type', kind === 'water' ? 'must be level for water' : 'level is for water only');
  if (kind === 'make-up' && (await queries.hasMakeUp(tx.run, bathId)))
    throw new Refusal(
      'conflict',
      'This fill has its make-up already: plan an addition of chemicals instead.',
    );
  if (fromAnalysisId !== null) {
    const analysis = await readAnalysis(tx.run, fromAnalysisId);
    if (analysis?.bath.id !== bathId) throw invalid('fromAnalysisId', 'is no analysis of this bath');
    if (analysis.supersededBy !== null)
      throw invalid(
        'fromAnalysisId',
        `${analysis.number} was superseded by ${analysis.supersededBy.number}: start from that one`,
      );
  }
  const needsReason = fromAnalysisId === null && (kind === 'chemical' || kind === 'decant');
  if (needsReason && reason.trim() === '') throw invalid('reason', 'is needed: no analysis led to this');
}

async function answerTo(tx: Tx, { request }: Input) {
  if (request === null) return null;
  return computeAddition(
    request,
    request.type === 'level' ? null : await readLot(tx.run, request.chemicalLotId),
  );
}

async function checkLots(tx: Tx, steps: readonly PlannedStep[]): Promise<void> {
  for (const [at, { action, chemicalLotId }] of steps.entries()) {
    const place = `steps.${at}.chemicalLotId`;
    if (action !== 'add-stock') {
      if (chemicalLotId !== null) throw invalid(place, 'must be empty: only stock comes from a lot');
      continue;
    }
    if (chemicalLotId === null) throw invalid(place, 'must be filled in: which lot it is taken from');
    const lot = await readLot(tx.run, chemicalLotId);
    if (lot === null) throw invalid(place, `there is no chemical lot ${chemicalLotId}`);
    if (lot.status !== 'open')
      throw invalid(place, `${lot.chemicalCode} lot ${lot.supplierLot} is ${lot.status}`);
  }
}

const sameSteps = (some: readonly PlannedStep[], others: readonly PlannedStep[]): boolean =>
  some.length === others.length &&
  some.every((step, at) => {
    const other = others[at];
    return (
      other !== undefined &&
      step.action === other.action &&
      step.chemicalLotId === other.chemicalLotId &&
      Math.abs(step.kg - other.kg) <= 1e-9 * Math.max(step.kg, other.kg)
    );
  });

/** Withdraws a planned addition, of which nothing was booked; a hold that it was begun with ends. */
export async function withdrawAddition(
  db: Db,
  of: { actor: Actor; id: number; reason: string },
): Promise<Addition> {
  const { actor, id, reason } = of;
  return inTransaction(db, async (tx) => {
    const { bath } = found(await queries.readAddition(tx.run, id), `addition ${id}`);
    await openBath(tx.run, bath.id);
    const row = found(await queries.readAddition(tx.run, id), `addition ${id}`);
    if (row.state !== 'planned') throw new Refusal('frozen', `${row.number} is ${row.state} already.`);
    await writing.setWithdrawn(tx.run, { id, personId: actor.personId, reason });
    await releaseWithdrawn(tx.run, { actor, addition: row, bath });
    await touchBath(tx.run, bath.id);
    await record(tx.run, actor, { kind: 'addition', id, number: row.number, action: 'withdrawn', reason });
    return viewAddition(tx.run, id);
  });
}
